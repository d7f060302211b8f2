import { norm } from '../geometry/norm.ts';
import type { Point } from '../geometry/point.ts';

/** Direction away from the camera's foot and the tangent of the viewing angle at a place, in the network's pixels. */
export interface Sight {
  readonly away: Point;
  readonly tangent: number;
}

/** Along the line of sight, marks on one stem lie this much farther apart per unit of the tangent. */
const STEM_MM = 40;
const SAME_BASE_MM = 10;
const MOST_TANGENT = 1.5;

/**
 * Whether two marks are one plant: nearer than `suppressMm`, or one behind the other along the line of sight (as far
 * as a stem of 40 mm is displaced) with one common base. From the side the network can mark two joints of one stem.
 * Distances and places in millimetres on the strip.
 */
export function samePlant(
  a: { readonly crownMm: Point; readonly baseMm: Point },
  b: { readonly crownMm: Point; readonly baseMm: Point },
  { away, tangent: steep }: Sight,
  suppressMm: number,
): boolean {
  const dx = a.crownMm[0] - b.crownMm[0];
  const dy = a.crownMm[1] - b.crownMm[1];
  if (norm(dx, dy) <= suppressMm) return true;
  const tangent = Math.min(steep, MOST_TANGENT);
  const along = dx * away[0] + dy * away[1];
  const beside = dy * away[0] - dx * away[1];
  if (norm(beside / suppressMm, along / (suppressMm + STEM_MM * tangent)) > 1) return false;
  const apart = norm(a.baseMm[0] - b.baseMm[0], a.baseMm[1] - b.baseMm[1]);
  return apart <= SAME_BASE_MM * (1 + tangent);
}
