import { lowerGamma, upperGamma } from './incompleteGamma.ts';

/** The error function, by way of the incomplete gamma function: erf x = P(1/2, x^2). */
export function erf(x: number): number {
  return x < 0 ? -lowerGamma(0.5, x * x) : lowerGamma(0.5, x * x);
}

/** 1 - erf x, exact in the far tail. */
export function erfc(x: number): number {
  return x < 0 ? 1 + lowerGamma(0.5, x * x) : upperGamma(0.5, x * x);
}
