import type { RodExtent } from './rodExtent.ts';
import { type Colour, tint } from './tint.ts';

export interface BandBorder {
  readonly s: number;
  /** 1 where the second colour begins, -1 where it ends. */
  readonly turn: 1 | -1;
}

/**
 * Farther from the line between both colours than this share of their distance, a place shows neither: a leaf over a white
 * band is as far from white as red is.
 */
const NEITHER = 0.4;

/**
 * Places where a rod changes from one band colour to the other, to a fraction of a pixel. Covered stretches (neither
 * colour) give none. Empty for a rod of one colour.
 */
export function bandBorders(extent: RodExtent): BandBorder[] {
  const [one, two] = extent.colours;
  if (one === undefined || two === undefined) return [];
  const axis = [0, 1, 2].map((c) => two[c]! - one[c]!);
  const size = axis.reduce((sum, a) => sum + a * a, 0);
  const share = extent.profile.map((p) => axis.reduce((sum, a, c) => sum + a * (p[c]! - one[c]!), 0) / size);
  const between = (at: number): Colour => [0, 1, 2].map((c) => one[c]! + at * axis[c]!) as unknown as Colour;
  const apart = tint(one, two);
  const isCovered = (k: number): boolean =>
    tint(extent.profile[k]!, between(Math.max(0, Math.min(1, share[k]!)))) > NEITHER * apart;
  const width = (extent.ribbon.toS - extent.ribbon.fromS) / extent.stepPx;
  const reach = Math.max(2, Math.min(8, Math.round(width / 120)));
  const borders: BandBorder[] = [];
  const indexAt = (s: number): number => Math.round((s - extent.profileFromS) / extent.stepPx);
  const from = Math.max(reach, indexAt(extent.ribbon.fromS) + reach);
  const to = Math.min(share.length - 1 - reach, indexAt(extent.ribbon.toS) - reach);
  let last: { at: number; level: 0 | 1 } | null = null;
  for (let k = from; k <= to; k++) {
    const value = share[k]!;
    const level = value < 0.25 ? 0 : value > 0.75 ? 1 : null;
    if (level === null || isCovered(k)) continue;
    if (last !== null && last.level !== level && k - last.at <= 3 * reach) {
      // area under the step between the two sure places
      let area = 0;
      for (let j = last.at; j <= k; j++) area += Math.max(0, Math.min(1, level === 1 ? 1 - share[j]! : share[j]!));
      const place = last.at - 0.5 + area;
      borders.push({ s: extent.profileFromS + place * extent.stepPx, turn: level === 1 ? 1 : -1 });
    }
    last = { at: k, level };
  }
  return borders;
}
