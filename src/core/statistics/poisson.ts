import { chiSquareQuantile } from './chiSquare.ts';
import { upperGamma } from './incompleteGamma.ts';
import { checkLevel, type Interval } from './interval.ts';
import { logFactorial } from './logGamma.ts';

/** Chance of exactly k events where `mean` are expected. */
export function poissonPmf(k: number, mean: number): number {
  if (!Number.isInteger(k) || k < 0) return 0;
  if (mean === 0) return k === 0 ? 1 : 0;
  return Math.exp(k * Math.log(mean) - mean - logFactorial(k));
}

/** Chance of at most k events where `mean` are expected. */
export function poissonCdf(k: number, mean: number): number {
  if (k < 0) return 0;
  return mean === 0 ? 1 : upperGamma(Math.floor(k) + 1, mean);
}

/**
 * Interval for the expected number behind one count: exact, by the chi-square quantiles of Garwood 1936 (Biometrika
 * 28:437-442). Covers at least the level. A count of 0 gives a low end of 0.
 */
export function poissonInterval(count: number, level: number): Interval {
  if (!Number.isInteger(count) || count < 0) throw new RangeError(`a count is a whole number from 0 on, got ${count}`);
  const tail = (1 - checkLevel(level)) / 2;
  return {
    low: count === 0 ? 0 : chiSquareQuantile(tail, 2 * count) / 2,
    high: chiSquareQuantile(1 - tail, 2 * count + 2) / 2,
    level,
    method: 'exact Poisson interval of the count (Garwood 1936)',
  };
}
