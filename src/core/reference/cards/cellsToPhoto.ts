import type { Homography } from '../../geometry/homography.ts';
import { MARKER_CELLS } from './cardDesign.ts';
import type { Quad } from './darkQuads.ts';

/**
 * From places on a marker, in cells from its first corner, to photo pixels; null where the corners fix no map. Four
 * corners of a square give it without a fit (Heckbert 1989, Fundamentals of texture mapping and image warping).
 */
export function cellsToPhoto([a, b, c, d]: Quad): Homography | null {
  const [ux, uy] = [b[0] - c[0], b[1] - c[1]];
  const [vx, vy] = [d[0] - c[0], d[1] - c[1]];
  const [sx, sy] = [a[0] - b[0] + c[0] - d[0], a[1] - b[1] + c[1] - d[1]];
  const area = ux * vy - uy * vx;
  const g = (sx * vy - sy * vx) / area;
  const h = (ux * sy - uy * sx) / area;
  // all four corners on the near side of the horizon, not on one line
  if (!(g > -1 && h > -1 && g + h > -1) || !Number.isFinite(g + h)) return null;
  const n = MARKER_CELLS;
  return [
    (b[0] - a[0] + g * b[0]) / n,
    (d[0] - a[0] + h * d[0]) / n,
    a[0],
    (b[1] - a[1] + g * b[1]) / n,
    (d[1] - a[1] + h * d[1]) / n,
    a[1],
    g / n,
    h / n,
    1,
  ];
}
