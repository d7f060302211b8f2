import { norm } from '../geometry/norm.ts';
import type { Mask, Raster } from './raster.ts';

/**
 * Takes out of a mask the pixels on inner edges: where green light changes, across two pixels and relative to its own
 * level, by more than `relativeStep` (a leaf over another, a leaf's own shadow). A symmetric difference of the 3-pixel
 * mean (Prewitt 1970), divided by the local mean so that light and exposure do not matter.
 */
export function cutEdges(mask: Mask, raster: Raster, relativeStep: number): Mask {
  const { widthPx: w, heightPx: h, data } = mask;
  const out = data.slice();
  const rgba = raster.data;
  const row = 4 * w;
  const last = data.length - w - 1;
  for (let i = data.indexOf(1, w + 1); i >= 0 && i < last; i = data.indexOf(1, i + 1)) {
    for (; i < last && data[i] === 1; i++) {
      // only inside the mask: its outer edge is known already
      if (data[i - 1] === 0 || data[i + 1] === 0 || data[i - w] === 0 || data[i + w] === 0) continue;
      const x = i % w;
      if (x === 0 || x === w - 1) continue;
      const j = 4 * i + 1;
      const a = rgba[j - row - 4]!;
      const b = rgba[j - row]!;
      const c = rgba[j - row + 4]!;
      const d = rgba[j - 4]!;
      const f = rgba[j + 4]!;
      const g = rgba[j + row - 4]!;
      const k = rgba[j + row + 4]!;
      const m = rgba[j + row]!;
      const gx = c + f + k - a - d - g;
      const gy = g + m + k - a - b - c;
      const level = a + c + g + k + d + f + b + m + 30;
      // the mean of three against the mean of eight
      if ((8 / 3) * norm(gx, gy) > relativeStep * level) out[i] = 0;
    }
  }
  return { widthPx: w, heightPx: h, data: out };
}
