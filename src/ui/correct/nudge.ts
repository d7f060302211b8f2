import type { CorrectedResult } from '../../core/corrections/replay.ts';
import { applyHomography, invertHomography } from '../../core/geometry/homography.ts';
import type { Point } from '../../core/geometry/point.ts';

const STEP_M = 0.01;
const FAR = 10;

/**
 * A photo pixel moved by one arrow key: 1 cm of soil along or across the row in the straightened view, 1 pixel in the
 * photo; ten times as far with shift. Without a scale always pixels.
 */
export function nudged(
  at: Point,
  [right, down]: Point,
  far: boolean,
  view: 'row' | 'photo',
  { reference: { photoToGround } }: CorrectedResult,
): Point {
  const times = far ? FAR : 1;
  if (view === 'photo' || photoToGround === null) return [at[0] + right * times, at[1] + down * times];
  const [along, across] = applyHomography(photoToGround, at);
  const by = STEP_M * times;
  return applyHomography(invertHomography(photoToGround), [along + right * by, across - down * by]);
}
