import { norm } from '../../geometry/norm.ts';
import { square } from '../../statistics/square.ts';

/** A measuring tape or folding rule is 12 to 32 mm wide. */
const NARROWEST_M = 0.012;
const WIDEST_M = 0.032;

export interface LineView {
  /** Place on the line relative to the photo's middle, px, and unit direction of the line in the photo. */
  readonly xPx: number;
  readonly yPx: number;
  readonly dirX: number;
  readonly dirY: number;
  /** Pixels per metre along the line there, under the reading in question. */
  readonly pxPerM: number;
  readonly widthPx: number;
  /** Where the line meets its vanishing point, px along `dir` from the place; infinite for a line seen square on. */
  readonly vanishPx: number;
  /** Diagonal of the photo, px. */
  readonly diagonalPx: number;
}

export interface CameraHint {
  readonly focalPx: number | null;
  readonly heightM: number;
  readonly heightSdM: number;
}

/** A photo whose file does not say is a phone's main camera as a rule, 24 to 30 mm equivalent; the width then says less. */
const USUAL_FOCAL_SHARE = 26 / 43.27;
const USUAL_FOCAL_SD = 0.15;
const LEAST_UNKNOWN = -4;

/**
 * Log likelihood (0 at best) that a tape of common width shows `widthPx` wide when `pxPerM` is right. With a focal length
 * the camera's height settles how the width is foreshortened: a patch of ground at depth Z covers f^2 h / Z^3 square
 * pixels a square metre, whatever the tilt. Without it that of a usual phone stands in, with its doubt.
 */
export function tapeWidthLikelihood(view: LineView, camera: CameraHint): number {
  const known = camera.focalPx !== null;
  const f = camera.focalPx ?? USUAL_FOCAL_SHARE * view.diagonalPx;
  const focalSd = known ? 0 : USUAL_FOCAL_SD;
  let d: readonly [number, number, number] = [view.dirX, view.dirY, 0];
  if (Math.abs(view.vanishPx) < 1e5) {
    const v = [view.xPx + view.vanishPx * view.dirX, view.yPx + view.vanishPx * view.dirY, f] as const;
    const size = norm(v[0], v[1], v[2]);
    const sign = view.vanishPx > 0 ? 1 : -1;
    d = [(sign * v[0]) / size, (sign * v[1]) / size, (sign * v[2]) / size];
  }
  const sweep = norm(f * d[0] - view.xPx * d[2], f * d[1] - view.yPx * d[2]);
  const depthM = sweep / view.pxPerM;
  // the camera cannot be nearer to the tape than it is high
  const ray = [(view.xPx * depthM) / f, (view.yPx * depthM) / f, depthM] as const;
  const along = ray[0] * d[0] + ray[1] * d[1] + ray[2] * d[2];
  const distance = Math.sqrt(Math.max(0, square(ray[0]) + square(ray[1]) + square(ray[2]) - square(along)));
  const heightSd = norm(Math.max(0.12, camera.heightSdM / camera.heightM), focalSd);
  const near = outside(Math.log(distance / camera.heightM), -0.05, Math.log(6), heightSd);
  const height = Math.min(camera.heightM, distance);
  const widthM = (view.pxPerM * view.widthPx * depthM * depthM * depthM) / (f * f * height);
  const wide = outside(Math.log(widthM), Math.log(NARROWEST_M), Math.log(WIDEST_M), norm(heightSd, 0.12));
  return known ? near + wide : Math.max(LEAST_UNKNOWN, near + wide);
}

function outside(value: number, low: number, high: number, sd: number): number {
  const by = value < low ? low - value : value > high ? value - high : 0;
  return Math.max(-12, -0.5 * square(by / sd));
}
