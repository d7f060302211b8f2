import type { Mask } from './raster.ts';

/**
 * Hysteresis (Canny 1986): the strong pixels, and the weak ones that touch them, directly or over at most `reachPx`
 * other weak pixels (eight-neighbour steps).
 */
export function growMask(strong: Mask, weak: Mask, reachPx: number): Mask {
  const { widthPx: w, heightPx: h } = strong;
  const out = Uint8Array.from(strong.data);
  const spread = (i: number, into: number[]): void => {
    const x = i % w;
    const y = (i - x) / w;
    for (let v = Math.max(0, y - 1); v <= Math.min(h - 1, y + 1); v++) {
      for (let u = Math.max(0, x - 1); u <= Math.min(w - 1, x + 1); u++) {
        const j = v * w + u;
        if (out[j] === 1 || weak.data[j] === 0) continue;
        out[j] = 1;
        into.push(j);
      }
    }
  };
  let front: number[] = [];
  if (reachPx >= 1) for (let i = strong.data.indexOf(1); i >= 0; i = strong.data.indexOf(1, i + 1)) spread(i, front);
  for (let step = 1; step < reachPx && front.length > 0; step++) {
    const next: number[] = [];
    for (const i of front) spread(i, next);
    front = next;
  }
  return { widthPx: w, heightPx: h, data: out };
}
