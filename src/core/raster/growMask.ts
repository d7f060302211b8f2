import { longer } from './longer.ts';
import type { Mask } from './raster.ts';

/**
 * Hysteresis (Canny 1986): the strong pixels, and the weak ones that touch them, directly or over at most `reachPx`
 * other weak pixels (eight-neighbour steps).
 */
export function growMask(strong: Mask, weak: Mask, reachPx: number): Mask {
  const { widthPx: w, heightPx: h } = strong;
  const out = strong.data.slice();
  const reachable = weak.data;
  // a queue of what was added, step by step
  let queue = new Int32Array(1 << 12);
  let n = 0;
  const spread = (i: number): void => {
    const x = i % w;
    const y = (i - x) / w;
    if (n + 8 > queue.length) queue = longer(queue);
    const left = x > 0 ? -1 : 0;
    const right = x + 1 < w ? 1 : 0;
    for (let row = y > 0 ? i - w : i, last = y + 1 < h ? i + w : i; row <= last; row += w) {
      for (let j = row + left; j <= row + right; j++) {
        if (out[j] === 1 || reachable[j] === 0) continue;
        out[j] = 1;
        queue[n++] = j;
      }
    }
  };
  if (reachPx >= 1) {
    for (let i = strong.data.indexOf(1); i >= 0; i = strong.data.indexOf(1, i)) {
      for (; strong.data[i] === 1; i++) spread(i);
    }
  }
  for (let step = 1, at = 0; step < reachPx && at < n; step++) {
    for (const end = n; at < end; at++) spread(queue[at]!);
  }
  return { widthPx: w, heightPx: h, data: out };
}
