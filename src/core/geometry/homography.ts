import type { Point } from './point.ts';

/**
 * A projective map of the plane, row-major 3 x 3, acting on column vectors (x, y, 1).
 * Scale is free; functions here return it with the last element 1 where that is possible.
 */
export type Homography = readonly [number, number, number, number, number, number, number, number, number];

export const IDENTITY: Homography = [1, 0, 0, 0, 1, 0, 0, 0, 1];

/** Maps one point. The result is not finite when the point lies on the map's horizon. */
export function applyHomography(h: Homography, [x, y]: Point): Point {
  const w = h[6] * x + h[7] * y + h[8];
  return [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w];
}

/** The map that first does `inner`, then `outer`. */
export function composeHomographies(outer: Homography, inner: Homography): Homography {
  const out: number[] = [];
  for (let r = 0; r < 3; r++) {
    for (let c = 0; c < 3; c++) {
      out.push(outer[3 * r]! * inner[c]! + outer[3 * r + 1]! * inner[3 + c]! + outer[3 * r + 2]! * inner[6 + c]!);
    }
  }
  return scaled(out);
}

/** The inverse map. Throws RangeError when the matrix is singular. */
export function invertHomography(h: Homography): Homography {
  const [a, b, c, d, e, f, g, i, j] = h;
  const out = [
    e * j - f * i,
    c * i - b * j,
    b * f - c * e,
    f * g - d * j,
    a * j - c * g,
    c * d - a * f,
    d * i - e * g,
    b * g - a * i,
    a * e - b * d,
  ];
  const det = a * out[0]! + b * out[3]! + c * out[6]!;
  const size = Math.max(...h.map(Math.abs));
  if (!(Math.abs(det) > 1e-15 * size ** 3)) throw new RangeError('this map of the plane has no inverse');
  return scaled(out.map((v) => v / det));
}

function scaled(m: readonly number[]): Homography {
  const last = m[8]!;
  const size = Math.max(...m.map(Math.abs));
  const by = Math.abs(last) > 1e-12 * size ? last : size;
  return m.map((v) => v / by) as unknown as Homography;
}
