import { maskRuns } from './maskRuns.ts';
import { type Patches, patchesOf } from './patches.ts';
import type { Mask } from './raster.ts';
import type { Runs } from './runs.ts';

/**
 * Fills the holes of each eight-connected component of a mask that are at most `areaPx` large, or most of whose pixels
 * `always` names (a highlight inside a leaf). A hole is a four-connected run of other pixels from which the outside of
 * the component's bounding box cannot be reached.
 */
export function fillHoles(mask: Mask, areaPx: number, always: (pixel: number) => boolean = () => false): Mask {
  const { widthPx: w, heightPx: h, data } = mask;
  const runs = maskRuns(mask);
  const patches = patchesOf(runs);
  const out = data.slice();
  for (let patch = 0; patch < patches.count; patch++) {
    const holes = patches.holes[patch]!;
    if (holes === 0) continue;
    const { seen, bw, left, top } = drawn(runs, patches, patch);
    const queue = new Int32Array(seen.length);
    flood(seen, bw, 0, queue);
    for (let found = 0, k = seen.indexOf(0); found < holes; found++, k = seen.indexOf(0, k)) {
      const n = flood(seen, bw, k, queue);
      const inPicture = (j: number): number => (top - 1 + Math.floor(j / bw)) * w + left - 1 + (j % bw);
      if (n > areaPx) {
        let named = 0;
        for (let j = 0; j < n; j++) if (always(inPicture(queue[j]!))) named++;
        if (2 * named <= n) continue;
      }
      for (let j = 0; j < n; j++) out[inPicture(queue[j]!)] = 1;
    }
  }
  return { widthPx: w, heightPx: h, data: out };
}

/** A patch alone, 1 where it is, with one pixel of outside all round, so that every open pixel is reached from the corner. */
function drawn({ rowStart, from, to }: Runs, patches: Patches, patch: number) {
  const left = patches.left[patch]!;
  const top = patches.top[patch]!;
  const bw = patches.right[patch]! - left + 3;
  const seen = new Uint8Array(bw * (patches.bottom[patch]! - top + 3));
  for (let i = patches.firstRun[patch]!, row = top; i >= 0; i = patches.nextRun[i]!) {
    while (i >= rowStart[row + 1]!) row++;
    const start = (row - top + 1) * bw + 1 - left;
    seen.fill(1, start + from[i]!, start + to[i]! + 1);
  }
  return { seen, bw, left, top };
}

/** Marks what can be reached from a place over sides, and lists it; returns how many pixels that are. */
function flood(seen: Uint8Array, bw: number, start: number, queue: Int32Array): number {
  let n = 0;
  queue[n++] = start;
  seen[start] = 1;
  for (let at = 0; at < n; at++) {
    const k = queue[at]!;
    const x = k % bw;
    if (x > 0 && seen[k - 1] === 0) {
      seen[k - 1] = 1;
      queue[n++] = k - 1;
    }
    if (x + 1 < bw && seen[k + 1] === 0) {
      seen[k + 1] = 1;
      queue[n++] = k + 1;
    }
    // past the first and last row there is nothing, which is not 0
    if (seen[k - bw] === 0) {
      seen[k - bw] = 1;
      queue[n++] = k - bw;
    }
    if (seen[k + bw] === 0) {
      seen[k + bw] = 1;
      queue[n++] = k + bw;
    }
  }
  return n;
}
