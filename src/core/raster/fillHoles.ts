import { labelComponents } from './labelComponents.ts';
import type { Mask } from './raster.ts';

/**
 * Fills the holes of each eight-connected component of a mask that are at most `areaPx` large, or most of whose pixels
 * `always` names (a highlight inside a leaf). A hole is a four-connected run of other pixels from which the outside of
 * the component's bounding box cannot be reached.
 */
export function fillHoles(mask: Mask, areaPx: number, always: (pixel: number) => boolean = () => false): Mask {
  const { widthPx: w, heightPx: h, data } = mask;
  const { labels, count } = labelComponents(mask);
  const boxes = Array.from({ length: count + 1 }, () => ({ left: w, top: h, right: -1, bottom: -1 }));
  for (let i = data.indexOf(1); i >= 0; i = data.indexOf(1, i + 1)) {
    const x = i % w;
    const y = (i - x) / w;
    const box = boxes[labels.data[i]!]!;
    if (x < box.left) box.left = x;
    if (x > box.right) box.right = x;
    if (y < box.top) box.top = y;
    box.bottom = y;
  }
  const out = Uint8Array.from(data);
  for (let label = 1; label <= count; label++) {
    const { left, top, right, bottom } = boxes[label]!;
    if (right - left < 2 || bottom - top < 2) continue;
    // one pixel of outside all round, so that every open pixel is reached from the corner
    const bw = right - left + 3;
    const bh = bottom - top + 3;
    const seen = new Uint8Array(bw * bh);
    const own = (k: number): boolean => {
      const x = left - 1 + (k % bw);
      const y = top - 1 + Math.floor(k / bw);
      return x >= left && x <= right && y >= top && y <= bottom && labels.data[y * w + x] === label;
    };
    const flood = (start: number): number[] => {
      const run = [start];
      seen[start] = 1;
      for (let n = 0; n < run.length; n++) {
        const k = run[n]!;
        const x = k % bw;
        for (const j of [x > 0 ? k - 1 : -1, x + 1 < bw ? k + 1 : -1, k - bw, k + bw]) {
          if (j < 0 || j >= seen.length || seen[j] === 1 || own(j)) continue;
          seen[j] = 1;
          run.push(j);
        }
      }
      return run;
    };
    flood(0);
    for (let k = 0; k < seen.length; k++) {
      if (seen[k] === 1 || own(k)) continue;
      const hole = flood(k).map((j) => (top - 1 + Math.floor(j / bw)) * w + left - 1 + (j % bw));
      if (hole.length <= areaPx || 2 * hole.filter(always).length > hole.length) for (const i of hole) out[i] = 1;
    }
  }
  return { widthPx: w, heightPx: h, data: out };
}
