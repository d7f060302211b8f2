import { cholesky, invertCholesky, solveCholesky } from './cholesky.ts';

export interface LeastSquaresFit {
  readonly parameters: readonly number[];
  /** Sum of squared residuals. */
  readonly cost: number;
  /** Covariance of the parameters when residuals are in units of their standard deviation; null when they are not fixed. */
  readonly covariance: readonly (readonly number[])[] | null;
}

/**
 * Minimises a sum of squared residuals from `start` (Levenberg 1944, Marquardt 1963; derivatives by central
 * differences with the given steps, which should be small against the parameters' doubt). A residual that is not
 * finite makes the point infinitely bad, so that steps over a horizon are refused. Deterministic. The covariance is
 * the inverse of J'J at the end. Stops when a step gains less than `smallestGain`, or than 1e-12 of the cost.
 */
export function levenbergMarquardt(
  residuals: (parameters: readonly number[]) => readonly number[],
  start: readonly number[],
  steps: readonly number[],
  maxIterations = 40,
  smallestGain = 0,
): LeastSquaresFit {
  let parameters = [...start];
  let current = residuals(parameters);
  let cost = sumOfSquares(current);
  let damping = 1e-3;
  for (let iteration = 0; iteration < maxIterations && Number.isFinite(cost); iteration++) {
    const { normal, gradient } = normalEquations(residuals, parameters, current, steps);
    let improved = false;
    while (damping < 1e12) {
      const damped = normal.map((row, i) => row.map((v, j) => (i === j ? v * (1 + damping) + 1e-300 : v)));
      const factor = cholesky(damped);
      if (factor !== null) {
        const step = solveCholesky(factor, gradient);
        const next = parameters.map((v, i) => v - step[i]!);
        const nextResiduals = residuals(next);
        const nextCost = sumOfSquares(nextResiduals);
        if (nextCost <= cost) {
          improved = cost - nextCost > 1e-12 * cost + smallestGain;
          parameters = next;
          current = nextResiduals;
          cost = nextCost;
          damping = Math.max(damping / 10, 1e-12);
          break;
        }
      }
      damping *= 10;
    }
    if (!improved) break;
  }
  const factor = Number.isFinite(cost) ? cholesky(normalEquations(residuals, parameters, current, steps).normal) : null;
  return { parameters, cost, covariance: factor === null ? null : invertCholesky(factor) };
}

function normalEquations(
  residuals: (parameters: readonly number[]) => readonly number[],
  at: readonly number[],
  current: readonly number[],
  steps: readonly number[],
): { normal: number[][]; gradient: number[] } {
  const columns: Float64Array[] = [];
  const moved = [...at];
  for (let i = 0; i < at.length; i++) {
    const h = steps[i]!;
    moved[i] = at[i]! + h;
    const above = residuals(moved);
    moved[i] = at[i]! - h;
    const below = residuals(moved);
    moved[i] = at[i]!;
    const column = new Float64Array(above.length);
    for (let k = 0; k < column.length; k++) column[k] = (above[k]! - below[k]!) / (2 * h);
    columns.push(column);
  }
  const normal: number[][] = [];
  const gradient: number[] = [];
  for (const [i, a] of columns.entries()) {
    normal.push([]);
    for (let j = 0; j < i; j++) normal[i]!.push(normal[j]![i]!);
    for (let j = i; j < columns.length; j++) normal[i]!.push(dot(a, columns[j]!));
    gradient.push(dot(a, current));
  }
  return { normal, gradient };
}

function dot(a: Float64Array, b: ArrayLike<number>): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}

function sumOfSquares(values: readonly number[]): number {
  let sum = 0;
  for (const v of values) sum += v * v;
  return Number.isFinite(sum) ? sum : Number.POSITIVE_INFINITY;
}
