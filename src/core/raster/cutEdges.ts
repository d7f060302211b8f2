import { norm } from '../geometry/norm.ts';
import type { Mask, Raster } from './raster.ts';

/**
 * Takes out of a mask the pixels on inner edges: where green light changes, across two pixels and relative to its own
 * level, by more than `relativeStep` (a leaf over another, a leaf's own shadow). A symmetric difference of the 3-pixel
 * mean (Prewitt 1970), divided by the local mean so that light and exposure do not matter.
 */
export function cutEdges(mask: Mask, raster: Raster, relativeStep: number): Mask {
  const { widthPx: w, heightPx: h, data } = mask;
  const out = Uint8Array.from(data);
  const green = (i: number): number => raster.data[4 * i + 1]!;
  for (let i = data.indexOf(1, w + 1); i >= 0 && i < data.length - w - 1; i = data.indexOf(1, i + 1)) {
    const x = i % w;
    if (x === 0 || x === w - 1) continue;
    // only inside the mask: its outer edge is known already
    if (data[i - 1] === 0 || data[i + 1] === 0 || data[i - w] === 0 || data[i + w] === 0) continue;
    const a = green(i - w - 1);
    const c = green(i - w + 1);
    const g = green(i + w - 1);
    const k = green(i + w + 1);
    const gx = c + green(i + 1) + k - a - green(i - 1) - g;
    const gy = g + green(i + w) + k - a - green(i - w) - c;
    const level = a + c + g + k + green(i - 1) + green(i + 1) + green(i - w) + green(i + w) + 30;
    // the mean of three against the mean of eight
    if ((8 / 3) * norm(gx, gy) > relativeStep * level) out[i] = 0;
  }
  return { widthPx: w, heightPx: h, data: out };
}
