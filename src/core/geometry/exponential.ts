/** Terms of the series; up to a quarter the first one left out is below the last bit. */
const TERMS = 12;

/**
 * e to the power of `x` by sums and products alone, which every engine rounds alike, where Math.exp is left to each. For
 * the logs of ratios that fits try: the relative error is below 1e-14 up to a few units.
 */
export function exponential(x: number): number {
  if (!(Math.abs(x) < 700)) return x > 0 ? Number.POSITIVE_INFINITY : x < 0 ? 0 : Number.NaN;
  let squarings = 0;
  let part = x;
  for (; Math.abs(part) > 0.25; squarings++) part /= 2;
  let power = 1;
  for (let k = TERMS; k > 0; k--) power = 1 + (power * part) / k;
  for (let k = 0; k < squarings; k++) power *= power;
  return power;
}
