import { type Homography, invertHomography } from '../geometry/homography.ts';
import { halve } from '../raster/halve.ts';
import { warp } from '../raster/warp.ts';
import type { Strip } from '../straighten/strip.ts';
import { focalPx } from './focalPx.ts';
import type { Photo } from './photo.ts';

/** A phone's main lens, and chest height: only for choosing a working size when nothing else is known. */
const USUAL_FOCAL_35_MM = 26;
const USUAL_HEIGHT_MM = 1500;
const WORKING_WIDTH_PX = 2000;

/**
 * The whole picture shrunk to a working size and labelled with a guessed scale, for looking for plants where no
 * reference is trusted. The scale comes from the lens and a usual height; no length is made from it.
 */
export function pictureAsStrip({ raster, facts }: Photo): Strip {
  const focal =
    focalPx(facts.focal35Mm, raster.widthPx, raster.heightPx) ??
    (focalPx(USUAL_FOCAL_35_MM, raster.widthPx, raster.heightPx) as number);
  let small = raster;
  let factor = 1;
  while (small.widthPx >= 2 * WORKING_WIDTH_PX) {
    small = halve(small);
    factor *= 2;
  }
  const shrink = Math.max(1, Math.max(small.widthPx, small.heightPx) / WORKING_WIDTH_PX);
  if (shrink > 1) {
    const by: Homography = [shrink, 0, 0, 0, shrink, 0, 0, 0, 1];
    small = warp(
      small,
      by,
      Math.max(1, Math.floor(small.widthPx / shrink)),
      Math.max(1, Math.floor(small.heightPx / shrink)),
      2,
    );
    factor *= shrink;
  }
  const mmPerPx = (USUAL_HEIGHT_MM / focal) * factor;
  const stripToPhoto: Homography = [factor, 0, (factor - 1) / 2, 0, factor, (factor - 1) / 2, 0, 0, 1];
  return {
    raster: small,
    mmPerPx,
    alongAtLeftM: 0,
    acrossAtTopM: (small.heightPx * mmPerPx) / 2000,
    photoToStrip: invertHomography(stripToPhoto),
    stripToPhoto,
    camera: null,
    worstPhotoPxPerStripPx: factor,
  };
}
