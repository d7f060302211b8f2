import type { Raster } from '../../raster/raster.ts';
import { median } from './contrastDirection.ts';
import { type Ribbon, ribbonPoint, ribbonWidth } from './ribbon.ts';
import { LOG_LEVEL, sampleAcross } from './sampleAcross.ts';
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

/**
 * How far a traced ribbon reaches: the stretch with the greatest excess of ribbon-like cross-sections over others
 * (maximum subarray, Bentley 1984), so that leaves and soil over it are bridged, then each end to a fraction of a pixel
 * from the step of the colour along the middle of the ribbon.
 */
export function ribbonExtent(photo: Raster, traced: TracedRibbon): RibbonExtent | null {
  const { ribbon, contrast } = traced;
  const [low, high] = inPicture(photo, ribbon);
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
    return endAt(photo, ribbon, colour, at, way, way < 0 ? low : high);
  });
  const [a, b] = ends as [End, End];
  if (b.s - a.s < 4 * ribbonWidth(ribbon, (a.s + b.s) / 2)) return null;
  return {
    ribbon: { ...ribbon, fromS: a.s, toS: b.s },
    endsSeen: [a.seen, b.seen],
    endSdPx: [a.sdPx, b.sdPx],
    visibleShare: visible / (to - from + 1),
    colour,
  };
}

interface End {
  readonly s: number;
  readonly seen: boolean;
  readonly sdPx: number;
}

/** Refines one end by the best two-level split of the likeness to the ribbon's own colour along its middle. */
function endAt(
  photo: Raster,
  ribbon: Ribbon,
  colour: readonly [number, number, number],
  coarse: number,
  way: -1 | 1,
  limit: number,
): End {
  const w = Math.max(2, ribbonWidth(ribbon, coarse));
  if (Math.abs(limit - coarse) < Math.max(6, 0.8 * w)) return { s: limit, seen: false, sdPx: 1 };
  const reach = Math.max(8, 1.6 * w);
  const n = Math.ceil(2 * reach);
  const distance = new Float32Array(n);
  const green = new Float32Array(n);
  const { widthPx, heightPx, data } = photo;
  for (let i = 0; i < n; i++) {
    const s = coarse + way * (i - reach);
    const rows = Math.max(3, Math.round(0.6 * w));
    const sum = [0, 0, 0];
    let seen = 0;
    for (let r = 0; r < rows; r++) {
      const [x, y] = ribbonPoint(ribbon, s, ((r + 0.5) / rows - 0.5) * 0.6 * w);
      const px = Math.round(x);
      const py = Math.round(y);
      if (px < 0 || py < 0 || px >= widthPx || py >= heightPx) continue;
      const at = (py * widthPx + px) * 4;
      for (let c = 0; c < 3; c++) sum[c]! += LOG_LEVEL[data[at + c]!]!;
      seen++;
    }
    const mean = sum.map((x) => x / Math.max(1, seen));
    let d = 0;
    for (let c = 0; c < 3; c++) d += Math.min(0.8, Math.abs(mean[c]! - colour[c]!));
    distance[i] = seen === 0 ? 2.4 : d;
    green[i] = mean[1]! - Math.max(mean[0]!, mean[2]!);
  }
  let best = Number.NEGATIVE_INFINITY;
  let cut = n >> 1;
  let gap = 0;
  for (let i = 4; i < n - 4; i++) {
    const inner = mean(distance, 0, i);
    const outer = mean(distance, i, n);
    const score = (outer - inner) ** 2 * Math.min(i, n - i);
    if (outer > inner && score > best) {
      best = score;
      cut = i;
      gap = outer - inner;
    }
  }
  // sub-pixel: the area under the step near the cut
  const before = mean(distance, Math.max(0, cut - 8), Math.max(1, cut - 2));
  const after = mean(distance, Math.min(n - 1, cut + 2), Math.min(n, cut + 8));
  let place = cut - 0.5;
  if (after > before + 0.05) {
    let area = 0;
    for (let i = cut - 3; i < cut + 3; i++) area += Math.max(0, Math.min(1, (after - distance[i]!) / (after - before)));
    place = cut - 3 + area - 0.5;
  }
  const covered = mean(green, Math.min(n - 1, cut + 1), n) > 0.06;
  return {
    s: coarse + way * (place - reach),
    seen: !covered && gap > 0.15,
    sdPx: gap > 0.4 ? 1 : 2.5,
  };
}

function mean(values: Float32Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += values[i]!;
  return sum / Math.max(1, to - from);
}

/** Range of s for which the centre line lies in the picture. */
function inPicture(photo: Raster, ribbon: Ribbon): [number, number] {
  const reach = 2 * Math.hypot(photo.widthPx, photo.heightPx);
  let low = Number.NaN;
  let high = Number.NaN;
  for (let s = -reach; s <= reach; s += 1) {
    const [x, y] = ribbonPoint(ribbon, s, 0);
    if (x < 0 || y < 0 || x > photo.widthPx - 1 || y > photo.heightPx - 1) continue;
    if (Number.isNaN(low)) low = s;
    high = s;
  }
  return Number.isNaN(low) ? [0, 0] : [low, high];
}

function bestRun(likeness: Float32Array): [number, number, number] {
  let best = 0;
  let sum = 0;
  let start = 0;
  let from = 0;
  let to = -1;
  for (let i = 0; i < likeness.length; i++) {
    sum += likeness[i]! - 0.4;
    if (sum <= 0) {
      sum = 0;
      start = i + 1;
    } else if (sum > best) {
      best = sum;
      from = start;
      to = i;
    }
  }
  let visible = 0;
  for (let i = from; i <= to; i++) if (likeness[i]! > 0.5) visible++;
  return [from, to, visible];
}
