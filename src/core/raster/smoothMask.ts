import type { Mask } from './raster.ts';

/** Three by three majority: takes single specks and fringes off, closes single holes, keeps lines two pixels wide. */
export function smoothMask(mask: Mask): Mask {
  const { widthPx: w, heightPx: h, data } = mask;
  const out = new Uint8Array(w * h);
  // four pixels a word, each row with an empty word before and after it, and an empty row above and below
  const wordsPerRow = ((w + 3) >> 2) + 2;
  const bytes = new Uint8Array(4 * wordsPerRow * (h + 2));
  for (let y = 0; y < h; y++) bytes.set(data.subarray(y * w, (y + 1) * w), 4 * (wordsPerRow * (y + 1) + 1));
  const words = new Int32Array(bytes.buffer);
  const columns = new Uint8Array(4 * wordsPerRow);
  const sums = new Int32Array(columns.buffer);
  for (let y = 0; y < h; y++) {
    // heights of the three rows' columns, four at a time: none is above 3
    for (let k = 0, at = y * wordsPerRow; k < wordsPerRow; k++, at++) {
      sums[k] = words[at]! + words[at + wordsPerRow]! + words[at + 2 * wordsPerRow]!;
    }
    const row = y * w;
    for (let k = 1; k + 1 < wordsPerRow; k++) {
      // of a pixel's two other columns one at most is in the next word: three of nine are no majority
      if (sums[k] === 0) continue;
      const first = 4 * k;
      const end = Math.min(first + 4, w + 4);
      for (let b = first; b < end; b++) {
        const n = columns[b - 1]! + columns[b]! + columns[b + 1]!;
        if (n >= 5 || (n === 4 && data[row + b - 4] === 1)) out[row + b - 4] = 1;
      }
    }
  }
  return { widthPx: w, heightPx: h, data: out };
}
