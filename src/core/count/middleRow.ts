import { norm } from '../geometry/norm.ts';
import type { Point } from '../geometry/point.ts';
import { square } from '../statistics/square.ts';

/** Plants this near a row's line, as a share of the picture's longer side, are its own. */
const NEAR_SHARE = 0.018;
/** Fewer plants show no row. */
const FEWEST = 4;
/** A row that passes this far from the middle, as a share of the picture's shorter side, counts little. */
const REACH_SHARE = 0.1;
/** Points beyond this many are thinned for the search of the line, not for the answer. */
const MOST = 160;

/**
 * Tells whether a place in a picture without a scale lies in the row of plants that passes nearest to its middle: the
 * line through two of them that has most others close by, weighed by how near it passes. True everywhere when too few
 * are seen to show a row.
 */
export function middleRow(points: readonly Point[], widthPx: number, heightPx: number): (place: Point) => boolean {
  if (points.length < FEWEST) return () => true;
  const near = NEAR_SHARE * Math.max(widthPx, heightPx);
  const reach = REACH_SHARE * Math.min(widthPx, heightPx);
  const [cx, cy] = [(widthPx - 1) / 2, (heightPx - 1) / 2];
  const thin = Math.ceil(points.length / MOST);
  const some = points.filter((_, i) => i % thin === 0);
  let best: { readonly at: Point; readonly normal: Point; readonly score: number } | null = null;
  for (const [i, a] of some.entries()) {
    for (const b of some.slice(i + 1)) {
      const length = norm(b[0] - a[0], b[1] - a[1]);
      if (length < 6 * near) continue;
      const normal: Point = [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
      const aside = Math.abs((cx - a[0]) * normal[0] + (cy - a[1]) * normal[1]);
      const weight = Math.exp(-0.5 * square(aside / reach));
      if (best !== null && weight * some.length <= best.score) continue;
      const score = weight * some.reduce((sum, p) => sum + Math.exp(-0.5 * square(off(p, a, normal) / (near / 2))), 0);
      if (best === null || score > best.score) best = { at: a, normal, score };
    }
  }
  if (best === null) return () => true;
  const { at, normal } = best;
  return (place) => off(place, at, normal) <= near;
}

const off = (p: Point, at: Point, normal: Point): number =>
  Math.abs((p[0] - at[0]) * normal[0] + (p[1] - at[1]) * normal[1]);
