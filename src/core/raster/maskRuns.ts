import { longer } from './longer.ts';
import type { Mask } from './raster.ts';
import type { Runs } from './runs.ts';

/** The set pixels of a mask of bytes as runs along its rows. */
export function maskRuns({ widthPx: w, heightPx: h, data }: Mask): Runs {
  const rowStart = new Int32Array(h + 1);
  let from = new Int32Array(1 << 12);
  let to = new Int32Array(1 << 12);
  let n = 0;
  let y = 0;
  // indexOf leaps over what is empty, which is nearly all of a picture of soil
  for (let i = data.indexOf(1); i >= 0; i = data.indexOf(1, i)) {
    const row = Math.floor(i / w);
    while (y <= row) rowStart[y++] = n;
    if (n === from.length) {
      from = longer(from);
      to = longer(to);
    }
    const first = row * w;
    const end = first + w;
    from[n] = i - first;
    while (i < end && data[i] === 1) i++;
    to[n++] = i - 1 - first;
  }
  while (y <= h) rowStart[y++] = n;
  return { rowStart, from: from.subarray(0, n), to: to.subarray(0, n) };
}
