import { cholesky } from './cholesky.ts';

/**
 * 2n equally weighted points whose mean and covariance are exactly the given ones: the mean plus and minus root n times
 * each column of the covariance's triangular factor (the symmetric set of Julier & Uhlmann 1997, without the
 * central point). A deterministic stand-in for random draws. Empty when the covariance is not positive definite.
 */
export function sigmaPoints(mean: readonly number[], covariance: readonly (readonly number[])[]): number[][] {
  const factor = cholesky(covariance);
  if (factor === null) return [];
  const reach = Math.sqrt(mean.length);
  return mean.flatMap((_, column) => [1, -1].map((sign) => mean.map((v, i) => v + sign * reach * factor[i]![column]!)));
}
