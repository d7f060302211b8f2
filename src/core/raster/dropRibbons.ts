import { maskRuns } from './maskRuns.ts';
import { type Patches, patchesOf } from './patches.ts';
import type { Mask } from './raster.ts';
import type { Runs } from './runs.ts';

/** What a ribbon is: at least so long, at most so wide, and of one width over most of its length. */
export interface RibbonLimits {
  readonly minLengthPx: number;
  readonly maxWidthPx: number;
}

/** Share of its length over which a ribbon's width stays within a third of its own median. */
const EVEN_SHARE = 0.6;
const EVEN_WITHIN = 0.34;
/** Across a ribbon there is one run of pixels; where it is wider than this many medians, something lies on it. */
const THICKEST = 1.6;

/**
 * Takes long ribbons of even width out of a mask: a hose, a cord, the coloured edge of a tape. Leaves that touch one
 * another make long components too, but of no even width. What lies on a ribbon, where it is clearly wider, stays.
 */
export function dropRibbons(mask: Mask, { minLengthPx, maxWidthPx }: RibbonLimits): Mask {
  const { widthPx: w, data } = mask;
  const runs = maskRuns(mask);
  const patches = patchesOf(runs);
  const out = data.slice();
  for (let patch = 0; patch < patches.count; patch++) {
    if (patches.areaPx[patch]! < minLengthPx) continue;
    const [left, top] = [patches.left[patch]!, patches.top[patch]!];
    const [wide, high] = [patches.right[patch]! - left + 1, patches.bottom[patch]! - top + 1];
    const lengthwise = wide >= high;
    const lengthPx = lengthwise ? wide : high;
    if (lengthPx < minLengthPx) continue;
    const widths = new Int32Array(lengthPx);
    eachRun(runs, patches, patch, (y, from, to) => {
      if (lengthwise) for (let x = from; x <= to; x++) widths[x - left]!++;
      else widths[y - top]! += to - from + 1;
    });
    const median = widths.slice().sort()[lengthPx >> 1]!;
    if (median > maxWidthPx) continue;
    const even = widths.filter((v) => Math.abs(v - median) <= Math.max(1, EVEN_WITHIN * median)).length;
    if (even < EVEN_SHARE * lengthPx) continue;
    const thin = THICKEST * median + 1;
    eachRun(runs, patches, patch, (y, from, to) => {
      for (let x = from; x <= to; x++) if (widths[lengthwise ? x - left : y - top]! <= thin) out[y * w + x] = 0;
    });
  }
  return { ...mask, data: out };
}

function eachRun(
  { rowStart, from, to }: Runs,
  patches: Patches,
  patch: number,
  see: (y: number, from: number, to: number) => void,
): void {
  for (let i = patches.firstRun[patch]!, y = patches.top[patch]!; i >= 0; i = patches.nextRun[i]!) {
    while (i >= rowStart[y + 1]!) y++;
    see(y, from[i]!, to[i]!);
  }
}
