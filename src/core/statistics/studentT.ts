import { findRoot } from './findRoot.ts';
import { incompleteBeta } from './incompleteBeta.ts';
import { normalQuantile } from './normal.ts';

/** Chance that Student's t with df degrees of freedom (any real above 0) is at most t. */
export function studentTCdf(t: number, df: number): number {
  if (!(df > 0)) throw new RangeError(`degrees of freedom are above 0, got ${df}`);
  if (t === 0) return 0.5;
  const square = t * t;
  const tail = incompleteBeta(df / (df + square), df / 2, 0.5, square / (df + square)) / 2;
  return t > 0 ? 1 - tail : tail;
}

/** The t that Student's t with df degrees of freedom stays below with chance p, 0 < p < 1. */
export function studentTQuantile(p: number, df: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`a probability lies between 0 and 1, got ${p}`);
  if (p === 0.5) return 0;
  if (p > 0.5) return -studentTQuantile(1 - p, df);
  let low = Math.min(normalQuantile(p), -1e-8);
  while (studentTCdf(low, df) > p) low *= 2;
  return findRoot((t) => studentTCdf(t, df) - p, low, 0);
}
