import type { Raster } from '../../raster/raster.ts';
import { bestRun } from './bestRun.ts';
import { median } from './contrastDirection.ts';
import { type Ribbon, ribbonWidth } from './ribbon.ts';
import { type RibbonEnd, ribbonEnd } from './ribbonEnd.ts';
import { ribbonInPicture } from './ribbonInPicture.ts';
import { sampleAcross } from './sampleAcross.ts';
import type { TracedRibbon } from './traceRibbon.ts';

export interface RibbonExtent {
  readonly ribbon: Ribbon;
  /** Whether the ribbon itself ends there (true) or leaves the photo or vanishes under something (false). */
  readonly endsSeen: readonly [boolean, boolean];
  /** Expected error (1 sd) of each end, px along the ribbon. */
  readonly endSdPx: readonly [number, number];
  /** Share of the extent in which the ribbon shows. */
  readonly visibleShare: number;
  /** Median log colour of the ribbon. */
  readonly colour: readonly [number, number, number];
}

/** The colour at an end is taken over so many widths; from fewer places than this it would be that of a figure. */
const END_WIDTHS = 4;
const LEAST_NEAR = 5;

/**
 * How far a traced ribbon reaches: the stretch with the greatest excess of ribbon-like cross-sections over others
 * (maximum subarray, Bentley 1984), so that leaves and soil over it are bridged, then each end to a fraction of a pixel
 * from the step of the colour along the middle of the ribbon.
 */
export function ribbonExtent(photo: Raster, traced: TracedRibbon): RibbonExtent | null {
  const { ribbon, contrast } = traced;
  const [low, high] = ribbonInPicture(photo, ribbon);
  const step = Math.max(2, Math.min(8, ribbonWidth(ribbon, (ribbon.fromS + ribbon.toS) / 2) / 3));
  const count = Math.floor((high - low) / step);
  if (count < 8) return null;
  const likeness = new Float32Array(count);
  const colours: [number, number, number][] = [];
  for (let k = 0; k < count; k++) {
    const from = low + k * step;
    const w = Math.max(1.5, ribbonWidth(ribbon, from + step / 2));
    const half = 1.15 * w + 2;
    const steps = Math.max(9, Math.ceil((2 * half) / Math.max(0.5, w / 12)) | 1);
    const stepV = (2 * half) / (steps - 1);
    const profile = new Float32Array(3 * steps);
    sampleAcross(photo, ribbon, from, from + step, Math.max(2, Math.round(step)), -half, stepV, steps, profile);
    const inner: [number, number, number] = [0, 0, 0];
    let nIn = 0;
    let sides = [0, 0];
    let nSides = [0, 0];
    let middle = 0;
    for (let i = 0; i < steps; i++) {
      const v = -half + i * stepV;
      const c0 = profile[i]!;
      const c1 = profile[steps + i]!;
      const c2 = profile[2 * steps + i]!;
      const value = contrast[0] * c0 + contrast[1] * c1 + contrast[2] * c2;
      if (Math.abs(v) < 0.36 * w) {
        inner[0] += c0;
        inner[1] += c1;
        inner[2] += c2;
        middle += value;
        nIn++;
      } else if (Math.abs(v) > 0.6 * w + 1) {
        sides[v < 0 ? 0 : 1]! += value;
        nSides[v < 0 ? 0 : 1]!++;
      }
    }
    sides = sides.map((sum, i) => middle / nIn - sum / Math.max(1, nSides[i]!));
    nSides = [0, 0];
    // both sides must agree: one side alone may be a shadow edge or a leaf
    likeness[k] = Math.max(
      -0.5,
      Math.min(1, Math.min(sides[0]!, sides[1]!) * 0.7 + Math.max(sides[0]!, sides[1]!) * 0.3),
    );
    colours.push([inner[0] / nIn, inner[1] / nIn, inner[2] / nIn]);
  }
  const [from, to, visible] = bestRun(likeness);
  if (to - from < 6) return null;
  const shown = colours.filter((_, k) => k >= from && k <= to && likeness[k]! > 0.5);
  const colour = [0, 1, 2].map((c) => median(shown.map((x) => x[c]!))) as [number, number, number];
  const ends = ([-1, 1] as const).map((way) => {
    const at = low + (way < 0 ? from : to + 1) * step;
    return ribbonEnd(photo, ribbon, colourNear(way < 0 ? from : to, way), at, way, way < 0 ? low : high);
  });
  const [a, b] = ends as [RibbonEnd, RibbonEnd];
  if (b.s - a.s < 4 * ribbonWidth(ribbon, (a.s + b.s) / 2)) return null;
  return {
    ribbon: { ...ribbon, fromS: a.s, toS: b.s },
    endsSeen: [a.seen, b.seen],
    endSdPx: [a.sdPx, b.sdPx],
    visibleShare: visible / (to - from + 1),
    colour,
  };

  /** The ribbon's colour near one end, which may lie in the sun where most of it lies in shade, or the other way round. */
  function colourNear(end: number, way: -1 | 1): readonly [number, number, number] {
    const reach = Math.ceil((END_WIDTHS * ribbonWidth(ribbon, low + end * step)) / step);
    const near: (readonly [number, number, number])[] = [];
    for (let i = 2; i < reach; i++) {
      const k = end - way * i;
      if (k >= from && k <= to && likeness[k]! > 0.5) near.push(colours[k]!);
    }
    if (near.length < LEAST_NEAR) return colour;
    return [0, 1, 2].map((c) => median(near.map((x) => x[c]!))) as [number, number, number];
  }
}
