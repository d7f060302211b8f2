import { cannot, good, type Outcome } from '../faults/outcome.ts';
import { solveLinear } from './solveLinear.ts';

export interface CurvePoint {
  readonly x: number;
  readonly y: number;
  /** Relative weight of the point's squared error; 1 where left out. */
  readonly weight?: number;
}

export interface FittedCurve {
  readonly parameters: readonly number[];
  /** Asymptotic standard errors; null where there are no more points than parameters. */
  readonly standardErrors: readonly number[] | null;
  readonly residualSumOfSquares: number;
  readonly residualSd: number | null;
  readonly steps: number;
}

const MOST_STEPS = 500;
/** Stop when a step changes the fit by less than this share. */
const SMALL_GAIN = 1e-15;
const DERIVATIVE_STEP = 1e-6;

/**
 * Least-squares fit of a curve with a few parameters (Levenberg 1944, Marquardt 1963, J. SIAM 11:431-441, damping
 * scaled by the diagonal). Derivatives by central differences. Refuses fewer points than parameters, a start where the
 * curve is not finite, and a fit whose parameters cannot be told apart.
 *
 * @param curve value of the curve at x for the parameters
 * @param start first guess; its order of magnitude is enough
 */
export function fitCurve(
  curve: (x: number, parameters: readonly number[]) => number,
  points: readonly CurvePoint[],
  start: readonly number[],
): Outcome<FittedCurve> {
  const p = start.length;
  if (points.length < p) {
    return cannot('too few points', `${points.length} points`, `${p} or more for ${p} parameters`, 'Add dated counts.');
  }
  const weights = points.map((point) => point.weight ?? 1);
  const residuals = (b: readonly number[]) => points.map((point) => point.y - curve(point.x, b));
  const sumOf = (r: readonly number[]) => r.reduce((sum, e, i) => sum + weights[i]! * e * e, 0);

  let b = [...start];
  let errors = residuals(b);
  let sum = sumOf(errors);
  if (!Number.isFinite(sum))
    return cannot('bad start', 'a curve that is not finite', 'a finite start', 'Start elsewhere.');
  let damping = 1e-3;
  let steps = 0;
  let quiet = 0;
  for (; steps < MOST_STEPS && quiet < 3 && damping < 1e16; steps++) {
    const { normal, gradient } = normalEquations(curve, points, weights, errors, b);
    const damped = normal.map((row, i) => row.map((v, j) => (i === j ? v * (1 + damping) : v)));
    const step = solveLinear(damped, gradient);
    const next = step === null ? null : b.map((v, i) => v + step[i]!);
    const nextErrors = next === null ? null : residuals(next);
    const nextSum = nextErrors === null ? Number.NaN : sumOf(nextErrors);
    if (next === null || nextErrors === null || !(nextSum <= sum)) {
      damping *= 10;
      continue;
    }
    quiet = sum - nextSum <= SMALL_GAIN * sum ? quiet + 1 : 0;
    [b, errors, sum] = [next, nextErrors, nextSum];
    damping = Math.max(damping / 10, 1e-12);
  }
  return finish(curve, points, weights, errors, b, sum, steps);
}

function finish(
  curve: (x: number, parameters: readonly number[]) => number,
  points: readonly CurvePoint[],
  weights: readonly number[],
  errors: readonly number[],
  b: readonly number[],
  sum: number,
  steps: number,
): Outcome<FittedCurve> {
  const { normal } = normalEquations(curve, points, weights, errors, b);
  const inverse = b.map(
    (_, j) =>
      solveLinear(
        normal,
        b.map((__, i) => (i === j ? 1 : 0)),
      )?.[j],
  );
  if (!inverse.every((v): v is number => v !== undefined && v > 0)) {
    return cannot(
      'not determined',
      'points that fit many curves equally well',
      'points spread over the rise of the curve',
      'Count again on another day.',
    );
  }
  const spare = points.length - b.length;
  const variance = spare > 0 ? sum / spare : null;
  return good({
    parameters: b,
    standardErrors: variance === null ? null : inverse.map((v) => Math.sqrt(v * variance)),
    residualSumOfSquares: sum,
    residualSd: variance === null ? null : Math.sqrt(variance),
    steps,
  });
}

function normalEquations(
  curve: (x: number, parameters: readonly number[]) => number,
  points: readonly CurvePoint[],
  weights: readonly number[],
  errors: readonly number[],
  b: readonly number[],
): { normal: number[][]; gradient: number[] } {
  const slopes = b.map((value, j) => {
    const h = DERIVATIVE_STEP * Math.max(Math.abs(value), 1e-3);
    const up = b.map((v, i) => (i === j ? v + h : v));
    const down = b.map((v, i) => (i === j ? v - h : v));
    return points.map((point) => (curve(point.x, up) - curve(point.x, down)) / (2 * h));
  });
  const dot = (a: readonly number[], c: readonly number[]) => a.reduce((s, v, i) => s + weights[i]! * v * c[i]!, 0);
  return { normal: slopes.map((a) => slopes.map((c) => dot(a, c))), gradient: slopes.map((a) => dot(a, errors)) };
}
