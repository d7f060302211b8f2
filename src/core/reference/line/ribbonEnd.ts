import type { Raster } from '../../raster/raster.ts';
import { square } from '../../statistics/square.ts';
import { type Ribbon, ribbonPoint, ribbonWidth } from './ribbon.ts';
import { LOG_LEVEL } from './sampleAcross.ts';

export interface RibbonEnd {
  readonly s: number;
  readonly seen: boolean;
  readonly sdPx: number;
}

/** Refines one end by the best two-level split of the likeness to the ribbon's own colour along its middle. */
export function ribbonEnd(
  photo: Raster,
  ribbon: Ribbon,
  colour: readonly [number, number, number],
  coarse: number,
  way: -1 | 1,
  limit: number,
): RibbonEnd {
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
    const score = square(outer - inner) * Math.min(i, n - i);
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
