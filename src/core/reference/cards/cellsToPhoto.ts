import { fitHomography } from '../../geometry/fitHomography.ts';
import type { Homography } from '../../geometry/homography.ts';
import type { Point } from '../../geometry/point.ts';
import { MARKER_CELLS } from './cardDesign.ts';
import type { Quad } from './darkQuads.ts';

/** From places on a marker, in cells from its first corner, to photo pixels; null where the corners fix no map. */
export function cellsToPhoto(corners: Quad): Homography | null {
  const n = MARKER_CELLS;
  const frame: readonly Point[] = [
    [0, 0],
    [n, 0],
    [n, n],
    [0, n],
  ];
  return fitHomography(frame.map((from, k) => ({ from, to: corners[k]! })))?.homography ?? null;
}
