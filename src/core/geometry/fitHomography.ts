import { square } from '../statistics/square.ts';
import { cholesky, solveCholesky } from './cholesky.ts';
import { applyHomography, composeHomographies, type Homography, invertHomography } from './homography.ts';
import { levenbergMarquardt } from './levenbergMarquardt.ts';
import { norm } from './norm.ts';
import type { Point } from './point.ts';
import { sigmaPoints } from './sigmaPoints.ts';

/** The same point in two planes; `sd` is the doubt of `to` per axis, in its unit (all equal where left out). */
export interface PointPair {
  readonly from: Point;
  readonly to: Point;
  readonly sd?: number;
}

export interface FittedHomography {
  readonly homography: Homography;
  /** Root mean square distance between mapped `from` and `to`, in the unit of `to`. */
  readonly rms: number;
  /**
   * 16 equally likely maps whose spread is the fit's doubt; empty when neither `sd` nor spare points tell the doubt.
   */
  readonly others: readonly Homography[];
}

/**
 * The projective map that takes `from` to `to`: normalised direct linear transform (Hartley 1997), then least squares
 * of the distances in the plane of `to`, weighted by 1 / sd. Needs 4 pairs, no three of them on a line. Null when the
 * pairs do not fix a map. Without `sd` the doubt is estimated from the misfit of more than 4 pairs.
 */
export function fitHomography(pairs: readonly PointPair[]): FittedHomography | null {
  if (pairs.length < 4) return null;
  const numbers = pairs.flatMap((p) => [...p.from, ...p.to, p.sd ?? 1]);
  if (!numbers.every(Number.isFinite) || pairs.some((p) => (p.sd ?? 1) <= 0)) return null;
  const source = normaliser(pairs.map((p) => p.from));
  const target = normaliser(pairs.map((p) => p.to));
  if (source === null || target === null) return null;
  const scaled = pairs.map((p) => ({
    from: applyHomography(source, p.from),
    to: applyHomography(target, p.to),
    weight: 1 / ((p.sd ?? 1) * target[0]),
  }));
  const start = directLinear(scaled);
  if (start === null) return null;
  const misfit = (h: readonly number[]) =>
    scaled.flatMap(({ from, to, weight }) => {
      const [x, y] = applyHomography([...h, 1] as unknown as Homography, from);
      const sameSide = h[6]! * from[0] + h[7]! * from[1] + 1 > 0;
      return sameSide ? [(x - to[0]) * weight, (y - to[1]) * weight] : [Number.NaN, Number.NaN];
    });
  const fit = levenbergMarquardt(
    misfit,
    start,
    start.map((v) => 1e-6 * Math.max(1, Math.abs(v))),
  );
  if (!Number.isFinite(fit.cost) || fit.covariance === null) return null;
  const back = invertHomography(target);
  const unscaled = (h: readonly number[]) =>
    composeHomographies(back, composeHomographies([...h, 1] as unknown as Homography, source));
  const homography = unscaled(fit.parameters);
  const distances = pairs.map((p) => {
    const [x, y] = applyHomography(homography, p.from);
    return square(x - p.to[0]) + square(y - p.to[1]);
  });
  const spare = 2 * pairs.length - 8;
  const told = pairs.every((p) => p.sd !== undefined);
  const variance = told ? 1 : spare > 0 ? fit.cost / spare : 0;
  const covariance = fit.covariance.map((row) => row.map((v) => v * variance));
  return {
    homography,
    rms: Math.sqrt(distances.reduce((sum, d) => sum + d, 0) / pairs.length),
    others: variance > 0 ? sigmaPoints(fit.parameters, covariance).map(unscaled) : [],
  };
}

/** Moves the middle of the points to the origin and their mean distance from it to root two. */
function normaliser(points: readonly Point[]): Homography | null {
  const n = points.length;
  const mx = points.reduce((sum, p) => sum + p[0], 0) / n;
  const my = points.reduce((sum, p) => sum + p[1], 0) / n;
  const spread = points.reduce((sum, p) => sum + norm(p[0] - mx, p[1] - my), 0) / n;
  if (!(spread > 0)) return null;
  const s = Math.SQRT2 / spread;
  return [s, 0, -s * mx, 0, s, -s * my, 0, 0, 1];
}

/** The first eight elements; the ninth is 1, which holds because the middle of the points never maps to the horizon. */
function directLinear(pairs: readonly { from: Point; to: Point; weight: number }[]): number[] | null {
  const normal = Array.from({ length: 8 }, () => new Array<number>(8).fill(0));
  const right = new Array<number>(8).fill(0);
  for (const { from, to, weight } of pairs) {
    const [x, y] = from;
    for (const [row, value] of [
      [[x, y, 1, 0, 0, 0, -to[0] * x, -to[0] * y], to[0]],
      [[0, 0, 0, x, y, 1, -to[1] * x, -to[1] * y], to[1]],
    ] as const) {
      for (let i = 0; i < 8; i++) {
        right[i]! += weight * weight * row[i]! * value;
        for (let j = 0; j < 8; j++) normal[i]![j]! += weight * weight * row[i]! * row[j]!;
      }
    }
  }
  const factor = cholesky(normal);
  return factor === null ? null : solveCholesky(factor, right);
}
