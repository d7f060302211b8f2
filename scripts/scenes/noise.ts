/** Hash of a lattice point to [0, 1). */
export function hash2(ix: number, iy: number, seed: number): number {
  let h = Math.imul(ix, 0x27d4eb2d) ^ Math.imul(iy, 0x165667b1) ^ Math.imul(seed, 0x9e3779b1);
  h = Math.imul(h ^ (h >>> 15), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return ((h ^ (h >>> 16)) >>> 0) / 4294967296;
}

const smooth = (t: number): number => t * t * t * (t * (t * 6 - 15) + 10);

/** Smooth value noise of unit wavelength, about -1..1 (K. Perlin's 2002 fade curve over a hashed lattice). */
export function valueNoise(x: number, y: number, seed: number): number {
  const ix = Math.floor(x);
  const iy = Math.floor(y);
  const u = smooth(x - ix);
  const v = smooth(y - iy);
  const a = hash2(ix, iy, seed);
  const b = hash2(ix + 1, iy, seed);
  const c = hash2(ix, iy + 1, seed);
  const d = hash2(ix + 1, iy + 1, seed);
  return 2 * (a + (b - a) * u + (c - a) * v + (a - b - c + d) * u * v) - 1;
}

/** Sum of value noise octaves, each half the wavelength and `gain` of the height of the one before, turned by 37 degrees. */
export function octaves(x: number, y: number, seed: number, count: number, gain = 0.5): number {
  let sum = 0;
  let amplitude = 1;
  let [u, v] = [0.8 * x + 0.6 * y, 0.8 * y - 0.6 * x];
  for (let i = 0; i < count; i++) {
    sum += amplitude * valueNoise(u, v, seed + i);
    amplitude *= gain;
    [u, v] = [1.62 * u + 1.22 * v + 17.3, 1.62 * v - 1.22 * u - 9.1];
  }
  return sum;
}

/** Nearest and second-nearest distance to jittered lattice points (S. Worley 1996), and the id of the nearest. */
export type Cell = { d1: number; d2: number; id: number };

const cell: Cell = { d1: 0, d2: 0, id: 0 };

/** The record is reused between calls: read it before the next call. */
export function worley(x: number, y: number, seed: number, jitter = 0.9): Cell {
  const ix = Math.floor(x);
  const iy = Math.floor(y);
  let d1 = 9;
  let d2 = 9;
  let id = 0;
  for (let j = -1; j <= 1; j++) {
    for (let i = -1; i <= 1; i++) {
      const cx = ix + i;
      const cy = iy + j;
      const h = hash2(cx, cy, seed);
      const px = cx + 0.5 + jitter * (h - 0.5) - x;
      const py = cy + 0.5 + jitter * (hash2(cx, cy, seed + 77) - 0.5) - y;
      const d = px * px + py * py;
      if (d < d1) {
        d2 = d1;
        d1 = d;
        id = h;
      } else if (d < d2) d2 = d;
    }
  }
  cell.d1 = Math.sqrt(d1);
  cell.d2 = Math.sqrt(d2);
  cell.id = id;
  return cell;
}
