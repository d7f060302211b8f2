import { cannot, good, type Outcome } from '../faults/outcome.ts';
import { checkLevel } from '../statistics/interval.ts';
import { normalQuantile } from '../statistics/normal.ts';

/** Taylor's power law of spatial counts: variance = a x mean^b. b 1 is random, above it clumped. */
export interface TaylorPower {
  readonly a: number;
  readonly b: number;
}

/** Fits the law to fields counted before, by a straight line through the logarithms (Taylor 1961, Nature 189:732-735). */
export function fitTaylorPower(
  fields: ReadonlyArray<{ readonly mean: number; readonly variance: number }>,
): Outcome<TaylorPower> {
  const points = fields
    .filter((field) => field.mean > 0 && field.variance > 0)
    .map((field) => ({ x: Math.log(field.mean), y: Math.log(field.variance) }));
  const meanX = points.reduce((sum, p) => sum + p.x, 0) / points.length;
  const meanY = points.reduce((sum, p) => sum + p.y, 0) / points.length;
  const spread = points.reduce((sum, p) => sum + (p.x - meanX) ** 2, 0);
  if (points.length < 3 || !(spread > 0)) {
    return cannot(
      'too few fields',
      `${points.length} fields`,
      'three fields or more of different means',
      'Count more fields.',
    );
  }
  const b = points.reduce((sum, p) => sum + (p.x - meanX) * (p.y - meanY), 0) / spread;
  return good({ a: Math.exp(meanY - b * meanX), b });
}

/**
 * Spots needed at an expected mean count: N = (z / d)^2 a mean^(b - 2), rounded up (Taylor's law in the sampling
 * formula of entomology; z of the normal, since a and b come from many fields).
 */
export function spotsNeededByTaylor(law: TaylorPower, mean: number, precision: number, level: number): number {
  if (!(mean > 0) || !(precision > 0))
    throw new RangeError(`mean and precision are above 0, got ${mean}, ${precision}`);
  const z = normalQuantile(1 - (1 - checkLevel(level)) / 2);
  return Math.max(1, Math.ceil((z / precision) ** 2 * law.a * mean ** (law.b - 2) - 1e-9));
}
