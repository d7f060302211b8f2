import { checkLevel } from '../statistics/interval.ts';
import { normalQuantile } from '../statistics/normal.ts';
import { studentTQuantile } from '../statistics/studentT.ts';

export interface PrecisionWanted {
  /** SD over mean between spots, e.g. 0.25. */
  readonly cv: number;
  /** Half width of the interval over the mean, e.g. 0.1 for +-10 %. */
  readonly precision: number;
  readonly level: number;
  /** How many spots the whole field holds; leave out for a field much larger than its spots. */
  readonly spotsInField?: number;
}

const MOST_SPOTS = 1_000_000;

/**
 * Spots needed for a mean of the wanted precision: the smallest n with n >= (t CV / d)^2, t on n - 1 degrees of freedom
 * (entomology sampling, N = (t s / (d m))^2), and for a field of N spots n >= t^2 CV^2 / (d^2 + t^2 CV^2 / N). At least
 * 2; null above a million.
 */
export function spotsNeeded({ cv, precision, level, spotsInField }: PrecisionWanted): number | null {
  if (!(cv >= 0) || !(precision > 0))
    throw new RangeError(`wanted cv from 0 on and precision above 0, got ${cv}, ${precision}`);
  const p = 1 - (1 - checkLevel(level)) / 2;
  // never fewer than with t of infinite freedom, so begin there
  const start = Math.max(2, Math.ceil(spotsAtT(normalQuantile(p), cv, precision, spotsInField) - 1e-9));
  for (let n = start; n <= MOST_SPOTS; n++) {
    if (n >= spotsAtT(studentTQuantile(p, n - 1), cv, precision, spotsInField) - 1e-9) return n;
  }
  return null;
}

/** The same for one given t: a fraction of a spot, to be rounded up. For a pilot of n spots, t on n - 1 degrees. */
export function spotsAtT(t: number, cv: number, precision: number, spotsInField?: number): number {
  const square = (t * cv) ** 2;
  return square / (precision ** 2 + (spotsInField === undefined ? 0 : square / spotsInField));
}

/** What a mean's standard error is multiplied by where n of the field's N possible spots were counted: sqrt(1 - n/N). */
export function finiteFieldFactor(n: number, spotsInField: number): number {
  if (!(spotsInField >= n && n >= 0)) throw new RangeError(`wanted 0 to ${spotsInField} spots, got ${n}`);
  return Math.sqrt(1 - n / spotsInField);
}
