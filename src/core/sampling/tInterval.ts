import { describe } from '../statistics/describe.ts';
import { checkLevel, type Interval } from '../statistics/interval.ts';
import { studentTQuantile } from '../statistics/studentT.ts';

const METHOD = "Student's t on the mean";

/**
 * Interval for a mean from its standard error: mean +- t(1 - (1 - level)/2, df) x SE (NIST/SEMATECH e-Handbook
 * 1.3.5.2). Ends below 0 stay: the caller knows whether the quantity can be below 0.
 */
export function tIntervalFrom(mean: number, standardError: number, df: number, level: number): Interval {
  const half = studentTQuantile(1 - (1 - checkLevel(level)) / 2, df) * standardError;
  return { low: mean - half, high: mean + half, level, method: `${METHOD}, ${df} degrees of freedom` };
}

/** The same from the values themselves; null below two of them. */
export function tInterval(values: readonly number[], level: number): Interval | null {
  const { n, mean, sd } = describe(values);
  if (mean === null || sd === null) return null;
  return tIntervalFrom(mean, sd / Math.sqrt(n), n - 1, level);
}
