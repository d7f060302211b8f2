import { findRoot } from './findRoot.ts';
import { incompleteBeta } from './incompleteBeta.ts';

/** Chance that a beta variable with shapes a and b is at most x. */
export function betaCdf(x: number, a: number, b: number): number {
  return incompleteBeta(Math.min(1, Math.max(0, x)), a, b);
}

/** The x that a beta variable stays below with chance p. */
export function betaQuantile(p: number, a: number, b: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`a probability lies between 0 and 1, got ${p}`);
  if (p === 0 || p === 1) return p;
  return findRoot((x) => betaCdf(x, a, b) - p, 0, 1);
}
