import type { Mask } from './raster.ts';

/** Three by three majority: takes single specks and fringes off, closes single holes, keeps lines two pixels wide. */
export function smoothMask(mask: Mask): Mask {
  const { widthPx: w, heightPx: h, data } = mask;
  const out = new Uint8Array(w * h);
  for (let y = 0; y < h; y++) {
    for (let x = 0, i = y * w; x < w; x++, i++) {
      const left = x > 0;
      const right = x + 1 < w;
      let n = data[i]! + (left ? data[i - 1]! : 0) + (right ? data[i + 1]! : 0);
      if (y > 0) n += data[i - w]! + (left ? data[i - w - 1]! : 0) + (right ? data[i - w + 1]! : 0);
      if (y + 1 < h) n += data[i + w]! + (left ? data[i + w - 1]! : 0) + (right ? data[i + w + 1]! : 0);
      out[i] = n >= 5 || (data[i] === 1 && n >= 4) ? 1 : 0;
    }
  }
  return { widthPx: w, heightPx: h, data: out };
}
