import { describe } from './describe.ts';

/**
 * Correlation of a series with itself, `lag` steps on, in the form NIST certifies: sum of the products of deviations
 * from the overall mean over the sum of their squares. Null where the series is too short or has no spread.
 */
export function autocorrelation(values: readonly number[], lag: number): number | null {
  if (!Number.isInteger(lag) || lag < 1) throw new RangeError(`a lag is a whole number from 1 on, got ${lag}`);
  const { mean } = describe(values);
  if (mean === null || values.length <= lag) return null;
  let top = 0;
  let bottom = 0;
  for (let i = 0; i < values.length; i++) {
    bottom += (values[i]! - mean) ** 2;
    if (i + lag < values.length) top += (values[i]! - mean) * (values[i + lag]! - mean);
  }
  return bottom === 0 ? null : top / bottom;
}
