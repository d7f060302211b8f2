import type { Field, Mask } from './raster.ts';

/**
 * Distance of each mask pixel to the nearest pixel outside, in thirds of a pixel (the 3-4 chamfer of Borgefors 1986,
 * CVGIP 34:344-371; within 8 % of the Euclidean distance, which is enough to tell lobes apart). The picture's border
 * does not count as outside.
 */
export function chamferDistance(mask: Mask): Field<Int32Array> {
  const { widthPx: w, heightPx: h, data } = mask;
  const far = 3 * (w + h);
  const out = new Int32Array(w * h);
  // along runs; indexOf leaps over what is empty
  for (let i = data.indexOf(1); i >= 0; i = data.indexOf(1, i)) {
    for (let x = i % w; data[i] === 1; i++, x = x + 1 === w ? 0 : x + 1) {
      let d = far;
      if (x > 0) d = Math.min(d, out[i - 1]! + 3);
      if (i >= w) {
        d = Math.min(d, out[i - w]! + 3);
        if (x > 0) d = Math.min(d, out[i - w - 1]! + 4);
        if (x + 1 < w) d = Math.min(d, out[i - w + 1]! + 4);
      }
      out[i] = d;
    }
  }
  for (let i = data.lastIndexOf(1); i >= 0; i = i < 0 ? -1 : data.lastIndexOf(1, i)) {
    for (let x = i % w; i >= 0 && data[i] === 1; i--, x = x === 0 ? w - 1 : x - 1) {
      let d = out[i]!;
      if (x + 1 < w) d = Math.min(d, out[i + 1]! + 3);
      if (i + w < data.length) {
        d = Math.min(d, out[i + w]! + 3);
        if (x > 0) d = Math.min(d, out[i + w - 1]! + 4);
        if (x + 1 < w) d = Math.min(d, out[i + w + 1]! + 4);
      }
      out[i] = d;
    }
  }
  return { widthPx: w, heightPx: h, data: out };
}
