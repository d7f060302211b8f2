import { type Camera, middleOf } from '../../src/core/geometry/camera.ts';
import type { Vector3 } from '../../src/core/geometry/point.ts';
import { add, cross, times, turned, unit } from '../../src/core/geometry/vector.ts';
import type { Random } from '../scenes/random.ts';

export const WIDTH_PX = 4032;
export const HEIGHT_PX = 3024;
export type ViewName = 'down' | 'side' | 'along';

/** A camera as people hold it over a stretch of `lengthM` from 0 along the reference. */
export function randomCamera(view: ViewName, lengthM: number, random: Random): Camera {
  const focalPx = (random.between(24, 28) / Math.hypot(36, 24)) * Math.hypot(WIDTH_PX, HEIGHT_PX);
  const side = random.pick([1, -1]);
  const middle = lengthM / 2;
  let position: Vector3;
  let aim: Vector3;
  let upHint: Vector3;
  if (view === 'down') {
    const heightM = (lengthM * focalPx) / WIDTH_PX / 0.93 + random.between(0, 0.15);
    position = [middle + random.normal(0, 0.05), random.normal(0, 0.1), heightM];
    aim = [position[0] + heightM * random.normal(0, 0.07), position[1] + heightM * random.normal(0, 0.07), 0];
    upHint = [0, side, 0];
  } else if (view === 'side') {
    const away = (lengthM * focalPx) / WIDTH_PX / 0.85;
    const heightM = random.between(1.3, 1.75);
    position = [
      middle + random.normal(0, 0.15),
      -side * Math.sqrt(Math.max(0.5, away * away - heightM * heightM)),
      heightM,
    ];
    aim = [middle + random.normal(0, 0.1), random.normal(0, 0.1), 0];
    upHint = [0, 0, 1];
  } else {
    position = [random.between(-1, -0.5), random.normal(0, 0.15), random.between(1.3, 1.75)];
    aim = [random.between(0.6, 1.1), random.normal(0, 0.08), 0];
    upHint = [0, 0, 1];
  }
  const ahead = unit(add(aim, times(position, -1)));
  const level = unit(cross(ahead, upHint));
  const right = turned(level, times(ahead, random.normal(0, 0.035)));
  return { focalPx, middlePx: middleOf(WIDTH_PX, HEIGHT_PX), position, axes: [right, cross(ahead, right), ahead] };
}
