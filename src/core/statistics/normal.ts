import { erfc } from './errorFunction.ts';

const SQRT_TWO_PI = Math.sqrt(2 * Math.PI);

/** Density of the standard normal distribution. */
export function normalPdf(z: number): number {
  return Math.exp((-z * z) / 2) / SQRT_TWO_PI;
}

/** Chance that a standard normal variable is at most z. */
export function normalCdf(z: number): number {
  return erfc(-z / Math.SQRT2) / 2;
}

/**
 * The z that a standard normal variable stays below with chance p. Start of Abramowitz & Stegun 26.2.23, then Halley
 * steps on the distribution function to full precision.
 */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`a probability lies between 0 and 1, got ${p}`);
  if (p === 0) return Number.NEGATIVE_INFINITY;
  if (p === 1) return Number.POSITIVE_INFINITY;
  if (p > 0.5) return -lowerQuantile(1 - p);
  return lowerQuantile(p);
}

function lowerQuantile(p: number): number {
  if (p === 0.5) return 0;
  const t = Math.sqrt(-2 * Math.log(p));
  const top = 2.515517 + t * (0.802853 + t * 0.010328);
  let z = top / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308))) - t;
  for (let i = 0; i < 3; i++) {
    const error = (normalCdf(z) - p) / normalPdf(z);
    z -= error / (1 + (z * error) / 2);
  }
  return z;
}
