import type { Point } from '../../geometry/point.ts';
import type { Quad } from './darkQuads.ts';

/** The quad with one corner put where a parallelogram of the three others has it. */
export function withCorner(quad: Quad, k: number): Quad {
  const [a, b, c] = [quad[(k + 3) % 4]!, quad[(k + 2) % 4]!, quad[(k + 1) % 4]!];
  return quad.map((p, i): Point => (i === k ? [a[0] + c[0] - b[0], a[1] + c[1] - b[1]] : p)) as unknown as Quad;
}
