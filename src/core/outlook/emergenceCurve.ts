import type { Outcome } from '../faults/outcome.ts';
import { cannot, good } from '../faults/outcome.ts';
import type { CurvePoint, FittedCurve } from '../statistics/fitCurve.ts';
import { fitCurve } from '../statistics/fitCurve.ts';

/**
 * Shape of plants up against days since planting. With final a:
 * logistic a / (1 + exp(b - c x)); Hill a x^b / (c^b + x^b); Gompertz a exp(-exp(b - c x)).
 */
export type CurveShape = 'logistic' | 'hill' | 'gompertz';

export interface EmergenceCurve {
  readonly shape: CurveShape;
  /** Plants per area in the end, and its standard error; null error where it was given or cannot be told. */
  readonly final: number;
  readonly finalSe: number | null;
  readonly finalGiven: boolean;
  /** The shape's own b and c. */
  readonly b: number;
  readonly c: number;
  readonly t50Days: number;
  readonly residualSumOfSquares: number;
  readonly points: number;
  readonly fit: FittedCurve;
}

type Curve = (x: number, a: number, b: number, c: number) => number;

const CURVES: Readonly<Record<CurveShape, Curve>> = {
  logistic: (x, a, b, c) => a / (1 + Math.exp(b - c * x)),
  hill: (x, a, b, c) => (x <= 0 ? 0 : a / (1 + (c / x) ** b)),
  gompertz: (x, a, b, c) => a * Math.exp(-Math.exp(b - c * x)),
};

/** Day on which a share (0 to 1) of the final is up. */
export function dayOfShare(curve: Pick<EmergenceCurve, 'shape' | 'b' | 'c'>, share: number): number {
  const { b, c } = curve;
  if (curve.shape === 'hill') return c * (share / (1 - share)) ** (1 / b);
  if (curve.shape === 'logistic') return (b + Math.log(share / (1 - share))) / c;
  return (b - Math.log(-Math.log(share))) / c;
}

/**
 * Fits one shape to running totals (not daily news) of plants up. Pass `final` to hold the end fixed: with two or
 * three counts it cannot be told. Least squares; check values: NIST Ratkowsky2 (logistic) and the germinationmetrics
 * set (Hill).
 */
export function fitEmergence(
  shape: CurveShape,
  totals: readonly CurvePoint[],
  final: number | null,
): Outcome<EmergenceCurve> {
  const points = [...totals].sort((p, q) => p.x - q.x);
  const most = Math.max(...points.map((p) => p.y));
  if (points.length < (final === null ? 3 : 2)) {
    return cannot(
      'too few counts',
      `${points.length} dated counts`,
      final === null ? '3 or more' : '2 or more',
      'Count again another day.',
    );
  }
  if (!(most > 0)) return cannot('nothing up', 'no plant up on any day', 'some plants up', 'Count again another day.');
  const [b, c] = start(shape, points, final ?? most * 1.05);
  const curve = CURVES[shape];
  const fitted =
    final === null
      ? fitCurve((x, p) => curve(x, p[0]!, p[1]!, p[2]!), points, [most * 1.05, b, c])
      : fitCurve((x, p) => curve(x, final, p[0]!, p[1]!), points, [b, c]);
  if (!fitted.ok) return fitted;
  const fit = fitted.value;
  const [a, fittedB, fittedC] = final === null ? fit.parameters : [final, ...fit.parameters];
  const made = { shape, b: fittedB!, c: fittedC! };
  return good({
    ...made,
    final: a!,
    finalSe: final === null ? (fit.standardErrors?.[0] ?? null) : null,
    finalGiven: final !== null,
    t50Days: dayOfShare(made, 0.5),
    residualSumOfSquares: fit.residualSumOfSquares,
    points: points.length,
    fit,
  });
}

/** Of the three shapes the one that fits closest; fewer than four counts need a given final. */
export function bestEmergenceCurve(totals: readonly CurvePoint[], final: number | null): Outcome<EmergenceCurve> {
  const free = totals.length >= 4;
  if (!free && final === null) {
    return cannot(
      'too few counts',
      `${totals.length} dated counts`,
      '4 or more, or the seed drop',
      'Enter the seed drop.',
    );
  }
  const fits = (['logistic', 'hill', 'gompertz'] as const).map((shape) =>
    fitEmergence(shape, totals, free ? null : final),
  );
  const made = fits.flatMap((fit) => (fit.ok && isSound(fit.value) ? [fit.value] : []));
  const best = made.sort((p, q) => p.residualSumOfSquares - q.residualSumOfSquares)[0];
  return best === undefined
    ? cannot(
        'no curve',
        'counts that do not rise along any curve',
        'counts that rise from day to day',
        'Go by the dig check.',
      )
    : good(best);
}

function isSound(curve: EmergenceCurve): boolean {
  return curve.final > 0 && curve.c > 0 && curve.b > 0 && Number.isFinite(curve.t50Days) && curve.t50Days > 0;
}

/** A first guess from where the totals pass a tenth and nine tenths of the end. */
function start(shape: CurveShape, points: readonly CurvePoint[], final: number): readonly [number, number] {
  const half = points.find((p) => p.y >= final / 2)?.x ?? points[points.length - 1]!.x;
  const t50 = Math.max(half, 0.5);
  const steep = 10 / t50;
  if (shape === 'hill') return [10, t50];
  return [steep * t50, steep];
}
