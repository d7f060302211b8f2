import type { CameraStand } from '../geometry/cameraStand.ts';
import { applyHomography, composeHomographies, type Homography, invertHomography } from '../geometry/homography.ts';
import type { Point } from '../geometry/point.ts';
import { halve } from '../raster/halve.ts';
import type { Raster } from '../raster/raster.ts';
import { warp } from '../raster/warp.ts';
import type { Strip } from './strip.ts';

export interface StripArea {
  readonly fromM: number;
  readonly toM: number;
  readonly acrossFromM: number;
  readonly acrossToM: number;
  readonly camera: CameraStand | null;
  /** Fixed scale wanted; without it the scale follows what the photo resolves at the middle of the strip. */
  readonly mmPerPx?: number;
}

/** Finest and coarsest scale a strip is made at, and the most pixels along and in all. */
const FINEST_MM_PER_PX = 0.7;
const COARSEST_MM_PER_PX = 2.5;
const MOST_STRIP_PX = 6_000_000;

/**
 * Resamples the soil plane between two readings at one fixed scale, so that everything after it sees plants at their
 * true size. Shrinks the photo first where it resolves far more than the strip shows (no aliasing), and averages four
 * samples a pixel where it resolves somewhat more.
 *
 * @param photoToGround photo pixels to ground metres (along, across).
 * Throws RangeError when the area is empty or lies beyond the photo's horizon.
 */
export function straighten(photo: Raster, photoToGround: Homography, area: StripArea): Strip {
  const lengthM = area.toM - area.fromM;
  const widthM = area.acrossToM - area.acrossFromM;
  if (!(lengthM > 0) || !(widthM > 0)) {
    throw new RangeError(`a strip needs a length and a width above 0, got ${lengthM} m x ${widthM} m`);
  }
  const groundToPhoto = invertHomography(photoToGround);
  const middle: Point = [(area.fromM + area.toM) / 2, (area.acrossFromM + area.acrossToM) / 2];
  const resolvedMm = 1 / photoPxPerMm(groundToPhoto, middle);
  if (!Number.isFinite(resolvedMm)) throw new RangeError('the strip lies beyond the horizon of this photo');
  const floorMm = Math.sqrt((lengthM * widthM * 1e6) / MOST_STRIP_PX);
  const mmPerPx = area.mmPerPx ?? Math.max(FINEST_MM_PER_PX, floorMm, Math.min(COARSEST_MM_PER_PX, resolvedMm));

  const widthPx = Math.max(1, Math.round((lengthM * 1000) / mmPerPx));
  const heightPx = Math.max(1, Math.round((widthM * 1000) / mmPerPx));
  const step = mmPerPx / 1000;
  const stripToGround: Homography = [step, 0, area.fromM, 0, -step, area.acrossToM, 0, 0, 1];
  const stripToPhoto = composeHomographies(groundToPhoto, stripToGround);

  let source = photo;
  let photoToSource: Homography = [1, 0, 0, 0, 1, 0, 0, 0, 1];
  let pxPerStripPx = mmPerPx / resolvedMm;
  while (pxPerStripPx >= 3 && source.widthPx > 1 && source.heightPx > 1) {
    source = halve(source);
    photoToSource = composeHomographies([0.5, 0, -0.25, 0, 0.5, -0.25, 0, 0, 1], photoToSource);
    pxPerStripPx /= 2;
  }
  const raster = warp(
    source,
    composeHomographies(photoToSource, stripToPhoto),
    widthPx,
    heightPx,
    pxPerStripPx > 1.4 ? 2 : 1,
  );
  const corners: Point[] = [
    [0, 0],
    [widthPx - 1, 0],
    [0, heightPx - 1],
    [widthPx - 1, heightPx - 1],
  ];
  const worst = Math.min(
    ...corners.map((c) => photoPxPerMm(groundToPhoto, applyHomography(stripToGround, c)) * mmPerPx),
  );
  return {
    raster,
    mmPerPx,
    alongAtLeftM: area.fromM,
    acrossAtTopM: area.acrossToM,
    photoToStrip: invertHomography(stripToPhoto),
    stripToPhoto,
    camera: area.camera,
    worstPhotoPxPerStripPx: worst,
  };
}

/** Photo pixels that one millimetre of soil covers at a ground place (the square root of the area scale). */
function photoPxPerMm(groundToPhoto: Homography, [x, y]: Point): number {
  const d = 1e-4;
  const [ax, ay] = applyHomography(groundToPhoto, [x - d, y]);
  const [bx, by] = applyHomography(groundToPhoto, [x + d, y]);
  const [cx, cy] = applyHomography(groundToPhoto, [x, y - d]);
  const [ex, ey] = applyHomography(groundToPhoto, [x, y + d]);
  const area = Math.abs((bx - ax) * (ey - cy) - (by - ay) * (ex - cx)) / (4 * d * d);
  return Math.sqrt(area) / 1000;
}
