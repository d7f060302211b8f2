import { cholesky, invertCholesky, solveCholesky } from './cholesky.ts';
import { levenbergMarquardt } from './levenbergMarquardt.ts';
import { norm } from './norm.ts';
import type { Point } from './point.ts';

/** A place on a straight scale and where it is seen; `sd` in the unit of `at`, per axis. */
export interface LineReading {
  readonly value: number;
  readonly at: Point;
  readonly sd: number;
}

/**
 * The projective map of a straight scale into a picture (5 degrees of freedom): with s = (value - middle) / half,
 * the picture point is (origin + s direction) / (1 + vanish s).
 */
export interface LineMap {
  readonly middle: number;
  readonly half: number;
  /** origin x, y, direction x, y, vanish. */
  readonly parameters: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  /** Root mean square misfit over the readings' doubt, by the degrees of freedom left; 1 where none are left. */
  readonly misfit: number;
}

/** Where a value of the scale is seen. */
export function applyLineMap(map: Pick<LineMap, 'middle' | 'half' | 'parameters'>, value: number): Point {
  return at(map.parameters, (value - map.middle) / map.half);
}

/**
 * Fits the map to at least three different readings (least squares of picture distances). Null when they do not fix
 * it, as when all have the same value or lie at one place.
 */
export function fitLineMap(readings: readonly LineReading[]): LineMap | null {
  if (readings.length < 3) return null;
  const values = readings.map((r) => r.value);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const [middle, half] = [(low + high) / 2, (high - low) / 2];
  const n = readings.length;
  const centre: Point = [readings.reduce((s, r) => s + r.at[0], 0) / n, readings.reduce((s, r) => s + r.at[1], 0) / n];
  const size = Math.max(...readings.map((r) => norm(r.at[0] - centre[0], r.at[1] - centre[1])));
  if (!(half > 0) || !(size > 0)) return null;
  const scaled = readings.map((r) => ({
    s: (r.value - middle) / half,
    x: (r.at[0] - centre[0]) / size,
    y: (r.at[1] - centre[1]) / size,
    weight: size / r.sd,
  }));
  const start = directLinear(scaled);
  if (start === null) return null;
  const residuals = (p: readonly number[]) =>
    scaled.flatMap(({ s, x, y, weight }) => {
      const [px, py] = at(p, s);
      return 1 + p[4]! * s > 0 ? [(px - x) * weight, (py - y) * weight] : [Number.NaN, Number.NaN];
    });
  const steps = [1e-6, 1e-6, 1e-6, 1e-6, 1e-6];
  const fit = levenbergMarquardt(residuals, start, steps, 20);
  if (fit.covariance === null) return null;
  const free = 2 * n - 5;
  // Back to picture units: origin + s direction carries the middle of the picture times (1 + vanish s).
  const [ox, oy, dx, dy, vanish] = fit.parameters as [number, number, number, number, number];
  const parameters = [
    ox * size + centre[0],
    oy * size + centre[1],
    dx * size + centre[0] * vanish,
    dy * size + centre[1] * vanish,
    vanish,
  ];
  const back = [
    [size, 0, 0, 0, 0],
    [0, size, 0, 0, 0],
    [0, 0, size, 0, centre[0]],
    [0, 0, 0, size, centre[1]],
    [0, 0, 0, 0, 1],
  ];
  return {
    middle,
    half,
    parameters,
    covariance: carried(back, fit.covariance),
    misfit: free > 0 ? Math.sqrt(fit.cost / free) : 1,
  };
}

/** The covariance of J p for that of p. */
export function carried(
  jacobian: readonly (readonly number[])[],
  covariance: readonly (readonly number[])[],
): number[][] {
  const half = jacobian.map((row) =>
    covariance[0]!.map((_, j) => row.reduce((sum, v, k) => sum + v * covariance[k]![j]!, 0)),
  );
  return jacobian.map((_, i) => jacobian.map((row) => row.reduce((sum, v, k) => sum + v * half[i]![k]!, 0)));
}

/** The matrix W with W'W the inverse of the covariance: W times a deviation has unit variance. Null when singular. */
export function whitener(covariance: readonly (readonly number[])[]): number[][] | null {
  const factor = cholesky(covariance);
  const precision = factor === null ? null : cholesky(invertCholesky(factor));
  return precision === null ? null : precision[0]!.map((_, j) => precision.map((row) => row[j]!));
}

function at(p: readonly number[], s: number): Point {
  const w = 1 + p[4]! * s;
  return [(p[0]! + p[2]! * s) / w, (p[1]! + p[3]! * s) / w];
}

function directLinear(readings: readonly { s: number; x: number; y: number; weight: number }[]): number[] | null {
  const normal = Array.from({ length: 5 }, () => new Array<number>(5).fill(0));
  const right = new Array<number>(5).fill(0);
  for (const { s, x, y, weight } of readings) {
    for (const [row, value] of [
      [[1, 0, s, 0, -s * x], x],
      [[0, 1, 0, s, -s * y], y],
    ] as const) {
      for (let i = 0; i < 5; i++) {
        right[i]! += weight * weight * row[i]! * value;
        for (let j = 0; j < 5; j++) normal[i]![j]! += weight * weight * row[i]! * row[j]!;
      }
    }
  }
  const factor = cholesky(normal);
  return factor === null ? null : solveCholesky(factor, right);
}
