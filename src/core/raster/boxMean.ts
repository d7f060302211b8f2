import type { Field } from './raster.ts';

/** Mean of each pixel's square neighbourhood of `radiusPx` to each side, cut at the border; by running sums. */
export function boxMean(field: Field<Uint8Array>, radiusPx: number): Field<Uint8Array> {
  const { widthPx: w, heightPx: h, data } = field;
  const out = new Uint8Array(w * h);
  const columns = new Int32Array(w);
  const add = (y: number, sign: 1 | -1): void => {
    for (let x = 0, i = y * w; x < w; x++, i++) columns[x]! += sign * data[i]!;
  };
  for (let y = 0; y < Math.min(radiusPx, h); y++) add(y, 1);
  for (let y = 0; y < h; y++) {
    if (y + radiusPx < h) add(y + radiusPx, 1);
    if (y - radiusPx - 1 >= 0) add(y - radiusPx - 1, -1);
    const rows = Math.min(h - 1, y + radiusPx) - Math.max(0, y - radiusPx) + 1;
    let sum = 0;
    for (let x = 0; x < Math.min(radiusPx, w); x++) sum += columns[x]!;
    for (let x = 0, i = y * w; x < w; x++, i++) {
      if (x + radiusPx < w) sum += columns[x + radiusPx]!;
      if (x - radiusPx - 1 >= 0) sum -= columns[x - radiusPx - 1]!;
      const across = Math.min(w - 1, x + radiusPx) - Math.max(0, x - radiusPx) + 1;
      out[i] = sum / (rows * across);
    }
  }
  return { widthPx: w, heightPx: h, data: out };
}
