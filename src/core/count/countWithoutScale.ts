import { applyHomography, type Homography, invertHomography } from '../geometry/homography.ts';
import { countInterval } from '../plants/countInterval.ts';
import { halve } from '../raster/halve.ts';
import type { Raster } from '../raster/raster.ts';
import { warp } from '../raster/warp.ts';
import type { NoReference } from '../reference/reference.ts';
import type { Strip } from '../straighten/strip.ts';
import type { CountOptions } from './countOptions.ts';
import type { CountResult } from './countResult.ts';
import { countSetting } from './countSetting.ts';
import { focalPx } from './focalPx.ts';
import type { Photo } from './photo.ts';
import type { CountTools, PhotoAnalysis } from './photoAnalysis.ts';
import { photoEntry } from './photoEntry.ts';
import { rasterToPhoto } from './rasterToPhoto.ts';

/** A phone's main lens, and chest height: only for choosing a working size when nothing else is known. */
const USUAL_FOCAL_35_MM = 26;
const USUAL_HEIGHT_MM = 1500;
const WORKING_WIDTH_PX = 2000;

/**
 * What can be said of a photo without a trusted reference: the plants seen, at pixels only. The working scale is a
 * guess from the lens and a usual height, and no length is made from it.
 */
export async function countWithoutScale(
  photo: Photo,
  options: CountOptions,
  reason: NoReference,
  tools: CountTools,
  startMs: number,
  referenceDoneMs: number,
): Promise<PhotoAnalysis> {
  const { raster } = photo;
  const focal =
    focalPx(photo.facts.focal35Mm, raster.widthPx, raster.heightPx) ??
    (focalPx(USUAL_FOCAL_35_MM, raster.widthPx, raster.heightPx) as number);
  const strip = pictureAsStrip(raster, USUAL_HEIGHT_MM / focal);
  const findings = await tools.findPlants(strip, {
    coveredStripPx: [],
    rowAcrossM: null,
    rowWidthM: null,
    seedSpacingM: null,
  });
  const doneMs = tools.nowMs();
  const result: CountResult = {
    schema: 'rowledger/count@1',
    photo: photoEntry(photo),
    reference: {
      kind: 'none',
      endsPx: null,
      endsM: null,
      photoToGround: null,
      alongErrorMm: null,
      reason: reason.reason,
      cues: [],
      readings: [],
    },
    stretch: null,
    setting: countSetting(photo, options),
    detector: tools.detector,
    plants: findings.detections.map((d) => {
      const [xPx, yPx] = rasterToPhoto(applyHomography(strip.stripToPhoto, d.baseStripPx), photo.photoPxPerRasterPx);
      return {
        id: d.id,
        xPx,
        yPx,
        alongM: null,
        acrossM: null,
        kind: d.kind,
        inStretch: true,
        confidence: d.confidence,
        doubleChance: d.doubleChance,
        alongSdMm: null,
      };
    }),
    count: countInterval(findings.detections, 0.9),
    spacing: null,
    gaps: [],
    population: null,
    warnings: [
      ...reason.warnings,
      ...findings.warnings,
      { code: 'no-scale', message: 'No length is known in this photo: plants are listed, nothing is measured.' },
    ],
    timingsMs: { reference: referenceDoneMs - startMs, plants: doneMs - referenceDoneMs, total: doneMs - startMs },
  };
  return { result, strip: null, findings, found: null };
}

/** The whole picture shrunk to a working size and labelled with a guessed scale. */
function pictureAsStrip(raster: Raster, mmPerRasterPx: number): Strip {
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
  const mmPerPx = mmPerRasterPx * factor;
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
