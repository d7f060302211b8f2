import { type Camera, rayOf } from '../../geometry/camera.ts';
import { norm } from '../../geometry/norm.ts';
import type { Point, Vector3 } from '../../geometry/point.ts';
import { add, cross, dot, times, unit } from '../../geometry/vector.ts';

/**
 * A camera over the soil told by what a straight reference shows: the pixels of its first and last reading, `vanish`
 * (positive where the last one is farther off, see LineMap), the turn of the soil plane about the line in radians (0
 * with the camera straight above the line, positive with the camera to its left), and the focal length. The first five
 * numbers are what readings fix; so a fit in these seven runs along straight valleys.
 */
export interface LineView {
  readonly firstPx: Point;
  readonly lastPx: Point;
  readonly vanish: number;
  readonly turn: number;
  readonly focalPx: number;
}

/** The camera that sees a line so. Null when part of the line would be behind it or the camera on the soil. */
export function cameraOfLine(view: LineView, firstM: number, lastM: number, middlePx: Point): Camera | null {
  const { firstPx, lastPx, vanish, turn, focalPx } = view;
  if (!(Math.abs(vanish) < 0.999) || !(Math.abs(turn) < 1.5)) return null;
  const first = times(rayOf(firstPx, focalPx, middlePx), 1 - vanish);
  const last = times(rayOf(lastPx, focalPx, middlePx), 1 + vanish);
  const span = times(add(last, times(first, -1)), 0.5);
  const scale = (lastM - firstM) / 2 / norm(...span);
  const along = unit(span);
  const middle = times(add(last, first), scale / 2);
  const nearest = add(middle, times(along, -dot(middle, along)));
  const above = unit(times(nearest, -1));
  const aside = cross(along, above);
  const up = add(times(above, Math.cos(turn)), times(aside, Math.sin(turn)));
  const left = cross(up, along);
  const position: Vector3 = [(firstM + lastM) / 2 - dot(middle, along), -dot(middle, left), -dot(middle, up)];
  if (!(position[2] > 1e-3)) return null;
  return {
    focalPx,
    middlePx,
    position,
    axes: [
      [along[0], left[0], up[0]],
      [along[1], left[1], up[1]],
      [along[2], left[2], up[2]],
    ],
  };
}

/** The vanish and turn that a direction of up (camera axes) gives; null when the line would reach above the horizon. */
export function lineViewFor(
  up: Vector3,
  firstPx: Point,
  lastPx: Point,
  vanish: number | null,
  focalPx: number,
  middlePx: Point,
): LineView | null {
  const [a, b] = [rayOf(firstPx, focalPx, middlePx), rayOf(lastPx, focalPx, middlePx)];
  const [fallA, fallB] = [-dot(a, up), -dot(b, up)];
  if (fallA < 0.02 || fallB < 0.02) return null;
  const told = vanish ?? (1 / fallB - 1 / fallA) / (1 / fallB + 1 / fallA);
  const flat = cameraOfLine({ firstPx, lastPx, vanish: told, turn: 0, focalPx }, 0, 1, middlePx);
  if (flat === null) return null;
  const axis = (k: 0 | 1 | 2): Vector3 => [flat.axes[0][k], flat.axes[1][k], flat.axes[2][k]];
  const [along, left, above] = [axis(0), axis(1), axis(2)];
  // aside = along x above = -left: see cameraOfLine.
  const turn = Math.atan2(-dot(up, left), dot(up, above));
  return Math.abs(turn) < 1.45 && Math.abs(dot(up, along)) < 0.999
    ? { firstPx, lastPx, vanish: told, turn, focalPx }
    : null;
}
