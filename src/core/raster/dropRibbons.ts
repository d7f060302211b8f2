import { labelComponents } from './labelComponents.ts';
import type { Mask } from './raster.ts';

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
  const { labels, count } = labelComponents(mask);
  const pixels: number[][] = Array.from({ length: count + 1 }, () => []);
  for (let i = data.indexOf(1); i >= 0; i = data.indexOf(1, i + 1)) pixels[labels.data[i]!]!.push(i);
  const out = Uint8Array.from(data);
  for (const list of pixels) {
    if (list.length < minLengthPx) continue;
    const xs = list.map((i) => i % w);
    const ys = list.map((i) => Math.floor(i / w));
    const [left, right] = extent(xs);
    const [top, bottom] = extent(ys);
    const lengthwise = right - left >= bottom - top;
    const along = lengthwise ? xs : ys;
    const from = lengthwise ? left : top;
    const lengthPx = (lengthwise ? right - left : bottom - top) + 1;
    if (lengthPx < minLengthPx) continue;
    const widths = new Int32Array(lengthPx);
    for (const a of along) widths[a - from]!++;
    const median = [...widths].sort((a, b) => a - b)[lengthPx >> 1]!;
    if (median > maxWidthPx) continue;
    const even = widths.filter((v) => Math.abs(v - median) <= Math.max(1, EVEN_WITHIN * median)).length;
    if (even < EVEN_SHARE * lengthPx) continue;
    for (const [k, i] of list.entries()) if (widths[along[k]! - from]! <= THICKEST * median + 1) out[i] = 0;
  }
  return { ...mask, data: out };
}

function extent(values: readonly number[]): readonly [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const v of values) {
    if (v < low) low = v;
    if (v > high) high = v;
  }
  return [low, high];
}
