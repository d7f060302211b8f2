import { norm } from '../../geometry/norm.ts';

/** Log red, green, blue. */
export type Colour = readonly [number, number, number];

/** Difference of two log colours in which a common factor on all channels (shade) counts a third. */
export function tint(a: Colour, b: Colour): number {
  const d = [a[0] - b[0], a[1] - b[1], a[2] - b[2]] as const;
  const mean = (d[0] + d[1] + d[2]) / 3;
  return norm(d[0] - mean, d[1] - mean, d[2] - mean) + Math.abs(mean) / 3;
}
