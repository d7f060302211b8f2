import { incompleteBeta } from './incompleteBeta.ts';
import { logGamma } from './logGamma.ts';
import { normalQuantile } from './normal.ts';

const MOST_STEPS = 500;
const SMALL_STEP = 1e-15;

/** Chance that Student's t with df degrees of freedom (any real above 0) is at most t. */
export function studentTCdf(t: number, df: number): number {
  if (!(df > 0)) throw new RangeError(`degrees of freedom are above 0, got ${df}`);
  if (t === 0) return 0.5;
  const square = t * t;
  const tail = incompleteBeta(df / (df + square), df / 2, 0.5, square / (df + square)) / 2;
  return t > 0 ? 1 - tail : tail;
}

/** Density of Student's t. */
function studentTPdf(t: number, df: number): number {
  const scale = Math.exp(logGamma((df + 1) / 2) - logGamma(df / 2)) / Math.sqrt(df * Math.PI);
  return scale * Math.exp((-(df + 1) / 2) * Math.log1p((t * t) / df));
}

/**
 * The t that Student's t with df degrees of freedom stays below with chance p, 0 < p < 1. Newton steps from the normal
 * quantile: below the median the distribution function is convex and its tails are heavier than the normal's, so they
 * come down to the root from one side and cannot overshoot it.
 */
export function studentTQuantile(p: number, df: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`a probability lies between 0 and 1, got ${p}`);
  if (p === 0.5) return 0;
  if (p > 0.5) return -studentTQuantile(1 - p, df);
  let t = normalQuantile(p);
  for (let i = 0; i < MOST_STEPS; i++) {
    const step = (studentTCdf(t, df) - p) / studentTPdf(t, df);
    t -= step;
    if (!(step > SMALL_STEP * Math.abs(t))) break;
  }
  return t;
}
