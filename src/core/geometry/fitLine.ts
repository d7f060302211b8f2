import { norm } from './norm.ts';
import type { Point } from './point.ts';

/** A line in a picture: a point on it, its unit direction, and how far its points lie off (root mean square). */
export interface FittedLine {
  readonly at: Point;
  readonly direction: Point;
  readonly rms: number;
  readonly n: number;
}

/**
 * The straight line nearest to the points by right-angled distance, leaving out points that stray more than three times
 * the median distance (at least `tolerance`), several rounds. Null for fewer than three points that agree.
 */
export function fitLine(points: readonly Point[], tolerance: number): FittedLine | null {
  let kept = points;
  let line: FittedLine | null = null;
  for (let round = 0; round < 6; round++) {
    if (kept.length < 3) return null;
    line = nearestLine(kept);
    if (line === null) return null;
    const limit = Math.max(tolerance, 3 * distancesFrom(line, kept).sort()[kept.length >> 1]!);
    const off = distancesFrom(line, points);
    const next: Point[] = [];
    let same = true;
    for (let k = 0; k < points.length; k++) {
      if (!(off[k]! <= limit)) continue;
      if (points[k] !== kept[next.length]) same = false;
      next.push(points[k]!);
    }
    if (same && next.length === kept.length) break;
    kept = next;
  }
  return line;
}

function distancesFrom({ at, direction }: FittedLine, points: readonly Point[]): Float64Array {
  const off = new Float64Array(points.length);
  for (let k = 0; k < off.length; k++) {
    const p = points[k]!;
    off[k] = Math.abs((p[0] - at[0]) * direction[1] - (p[1] - at[1]) * direction[0]);
  }
  return off;
}

/** Where two lines cross; not finite when they are parallel. */
export function crossing(a: FittedLine, b: FittedLine): Point {
  const det = a.direction[0] * b.direction[1] - a.direction[1] * b.direction[0];
  const t = ((b.at[0] - a.at[0]) * b.direction[1] - (b.at[1] - a.at[1]) * b.direction[0]) / det;
  return [a.at[0] + t * a.direction[0], a.at[1] + t * a.direction[1]];
}

function nearestLine(points: readonly Point[]): FittedLine | null {
  const n = points.length;
  let [mx, my] = [0, 0];
  for (let k = 0; k < n; k++) {
    mx += points[k]![0];
    my += points[k]![1];
  }
  mx /= n;
  my /= n;
  let [xx, xy, yy] = [0, 0, 0];
  for (let k = 0; k < n; k++) {
    const x = points[k]![0] - mx;
    const y = points[k]![1] - my;
    xx += x * x;
    xy += x * y;
    yy += y * y;
  }
  const angle = Math.atan2(2 * xy, xx - yy) / 2;
  const least = (xx + yy - norm(xx - yy, 2 * xy)) / 2;
  if (!(xx + yy > 0)) return null;
  return { at: [mx, my], direction: [Math.cos(angle), Math.sin(angle)], rms: Math.sqrt(Math.max(0, least) / n), n };
}
