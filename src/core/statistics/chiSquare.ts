import { findRoot } from './findRoot.ts';
import { lowerGamma, upperGamma } from './incompleteGamma.ts';

/** Chance that chi-square with df degrees of freedom is at most x. */
export function chiSquareCdf(x: number, df: number): number {
  return x <= 0 ? 0 : lowerGamma(df / 2, x / 2);
}

/** Chance that chi-square with df degrees of freedom is x or more. */
export function chiSquareUpper(x: number, df: number): number {
  return x <= 0 ? 1 : upperGamma(df / 2, x / 2);
}

/** The x that chi-square stays below with chance p, 0 < p < 1. */
export function chiSquareQuantile(p: number, df: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`a probability lies between 0 and 1, got ${p}`);
  let high = df + 1;
  while (chiSquareCdf(high, df) < p) high *= 2;
  return findRoot((x) => chiSquareCdf(x, df) - p, 0, high);
}
