import { incompleteBeta } from './incompleteBeta.ts';
import { logFactorial, logGamma } from './logGamma.ts';

/**
 * Chance of exactly `count` where `mean` are expected and clumping is k: variance mean + mean^2 / k. Small k is
 * clumped; k without bound is Poisson.
 */
export function negativeBinomialPmf(count: number, mean: number, k: number): number {
  if (!Number.isInteger(count) || count < 0) return 0;
  if (mean === 0) return count === 0 ? 1 : 0;
  const ways = logGamma(count + k) - logGamma(k) - logFactorial(count);
  return Math.exp(ways - k * Math.log1p(mean / k) + count * (Math.log(mean) - Math.log(mean + k)));
}

/** Chance of at most `count` where `mean` are expected and clumping is k. */
export function negativeBinomialCdf(count: number, mean: number, k: number): number {
  if (count < 0) return 0;
  if (mean === 0) return 1;
  return incompleteBeta(k / (k + mean), k, Math.floor(count) + 1, mean / (k + mean));
}
