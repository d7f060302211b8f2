import { incompleteBeta } from './incompleteBeta.ts';
import { logFactorial } from './logGamma.ts';

/** Chance of exactly k successes in n tries, each with chance p. */
export function binomialPmf(k: number, n: number, p: number): number {
  if (!Number.isInteger(k) || k < 0 || k > n) return 0;
  if (p === 0 || p === 1) return k === n * p ? 1 : 0;
  const ways = logFactorial(n) - logFactorial(k) - logFactorial(n - k);
  return Math.exp(ways + k * Math.log(p) + (n - k) * Math.log1p(-p));
}

/** Chance of at most k successes in n tries, each with chance p. */
export function binomialCdf(k: number, n: number, p: number): number {
  const whole = Math.floor(k);
  if (whole < 0) return 0;
  if (whole >= n) return 1;
  return incompleteBeta(1 - p, n - whole, whole + 1, p);
}
