import { square } from '../../statistics/square.ts';
import type { FollowedPrint } from './followPrint.ts';

/**
 * How far the print lies from its projective map at u, periods: what relief under the tape does. Mean of the nearest
 * followed places, so that a single bad one does little.
 */
export function localShift(fit: FollowedPrint, u: number): number {
  const residual = (p: { readonly u: number; readonly reading: number }): number =>
    p.reading - (fit.perT * p.u) / (1 + fit.c * p.u) - fit.offset;
  const usable = fit.places.filter((p) => Math.abs(residual(p)) < Math.max(0.1, 4.7 * fit.spread));
  if (usable.length === 0) return fit.offset;
  // beyond the outermost places the last residual holds
  const reach = 2.2 / Math.max(8, fit.places.length);
  let sum = 0;
  let weight = 0;
  for (const p of usable) {
    const w = Math.exp(-0.5 * square((p.u - u) / reach)) + 1e-9;
    sum += w * residual(p);
    weight += w;
  }
  return fit.offset + sum / weight;
}
