import type { Mask } from './raster.ts';

/** Three by three majority: takes single specks and fringes off, closes single holes, keeps lines two pixels wide. */
export function smoothMask(mask: Mask): Mask {
  const { widthPx: w, heightPx: h, data } = mask;
  const out = new Uint8Array(w * h);
  const filled = new Uint8Array(h);
  for (let i = data.indexOf(1); i >= 0; i = data.indexOf(1, (Math.floor(i / w) + 1) * w)) filled[Math.floor(i / w)] = 1;
  const columns = new Uint8Array(w + 2);
  for (let y = 0; y < h; y++) {
    const above = y > 0 && filled[y - 1] === 1;
    const below = y + 1 < h && filled[y + 1] === 1;
    if (!above && !below && filled[y] === 0) continue;
    const row = y * w;
    for (let x = 0; x < w; x++) {
      columns[x + 1] = data[row + x]! + (above ? data[row + x - w]! : 0) + (below ? data[row + x + w]! : 0);
    }
    for (let x = 0; x < w; x++) {
      const n = columns[x]! + columns[x + 1]! + columns[x + 2]!;
      if (n >= 5 || (n === 4 && data[row + x] === 1)) out[row + x] = 1;
    }
  }
  return { widthPx: w, heightPx: h, data: out };
}
