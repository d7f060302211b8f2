/** What a list of numbers comes to; null where too few were given to tell. */
export interface Description {
  readonly n: number;
  readonly mean: number | null;
  /** Sample variance, n - 1 below the line; null below two values. */
  readonly variance: number | null;
  readonly sd: number | null;
  /** SD over mean; null where either is missing or the mean is not above 0. */
  readonly cv: number | null;
}

/**
 * Number, mean, sample variance and SD in two passes, the second corrected for what rounding left in the mean (Chan,
 * Golub & LeVeque 1983, Am. Stat. 37:242-247). Order does not matter beyond rounding.
 */
export function describe(values: readonly number[]): Description {
  const n = values.length;
  if (n === 0) return { n, mean: null, variance: null, sd: null, cv: null };
  const first = values.reduce((sum, x) => sum + x, 0) / n;
  let left = 0;
  let squares = 0;
  for (const x of values) {
    left += x - first;
    squares += (x - first) ** 2;
  }
  const mean = first + left / n;
  if (n === 1) return { n, mean, variance: null, sd: null, cv: null };
  const variance = Math.max(0, (squares - (left * left) / n) / (n - 1));
  const sd = Math.sqrt(variance);
  return { n, mean, variance, sd, cv: mean > 0 ? sd / mean : null };
}
