import { checkLevel, type Interval } from './interval.ts';
import { normalQuantile } from './normal.ts';

/**
 * Interval for a share from `successes` of `n` (Wilson 1927, J. Am. Stat. Assoc. 22:209-212), without continuity
 * correction. Throws RangeError where there is nothing to judge (n 0) or the numbers do not fit.
 *
 * `wilsonInterval(85, 100, 0.95)` is 0.7672 to 0.9069.
 */
export function wilsonInterval(successes: number, n: number, level: number): Interval {
  if (!(n > 0) || !(successes >= 0 && successes <= n)) {
    throw new RangeError(`wanted 0 to n of n above 0, got ${successes} of ${n}`);
  }
  const z = normalQuantile(1 - (1 - checkLevel(level)) / 2);
  const share = successes / n;
  const middle = share + (z * z) / (2 * n);
  const half = z * Math.sqrt((share * (1 - share)) / n + (z * z) / (4 * n * n));
  const scale = 1 + (z * z) / n;
  return {
    low: successes === 0 ? 0 : (middle - half) / scale,
    high: successes === n ? 1 : (middle + half) / scale,
    level,
    method: 'Wilson interval of a share (Wilson 1927)',
  };
}
