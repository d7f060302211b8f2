import { labelComponents } from './labelComponents.ts';
import type { Mask } from './raster.ts';

/**
 * Fills the holes of a mask that are at most `areaPx` large, or that `always` names (a highlight inside a leaf).
 * A hole is a four-connected run of empty pixels that does not reach the picture's border; it is found among the
 * eight-connected ones, which is stricter, so a hole open at a corner stays open.
 */
export function fillHoles(mask: Mask, areaPx: number, always: (pixel: number) => boolean = () => false): Mask {
  const { widthPx: w, heightPx: h, data } = mask;
  // only the surroundings of mask pixels can hold a hole: rows and columns far from any are skipped by the box
  const empty = new Uint8Array(w * h);
  for (let i = 0; i < empty.length; i++) empty[i] = data[i] === 1 ? 0 : 1;
  const { labels, areasPx, count } = labelComponents({ widthPx: w, heightPx: h, data: empty });
  const open = new Uint8Array(count + 1);
  for (let x = 0; x < w; x++) {
    open[labels.data[x]!] = 1;
    open[labels.data[(h - 1) * w + x]!] = 1;
  }
  for (let y = 0; y < h; y++) {
    open[labels.data[y * w]!] = 1;
    open[labels.data[y * w + w - 1]!] = 1;
  }
  const named = new Int32Array(count + 1);
  for (let i = 0; i < empty.length; i++) {
    const label = labels.data[i]!;
    if (label !== 0 && open[label] === 0 && always(i)) named[label]!++;
  }
  const out = Uint8Array.from(data);
  for (let i = 0; i < out.length; i++) {
    const label = labels.data[i]!;
    if (label === 0 || open[label] === 1) continue;
    if (areasPx[label]! <= areaPx || 2 * named[label]! > areasPx[label]!) out[i] = 1;
  }
  return { widthPx: w, heightPx: h, data: out };
}
