import type { FieldSpot } from './fieldSpot.ts';
import { densityOf } from './fieldSpot.ts';

export interface OutlierSpot {
  readonly id: string;
  /** Modified z-score: how far from the median, in robust SDs. Null where all other spots are alike. */
  readonly score: number | null;
  readonly side: 'low' | 'high';
}

/** Above this a point is labelled a possible outlier (Iglewicz & Hoaglin 1993; NIST/SEMATECH e-Handbook 1.3.5.17). */
export const OUTLIER_SCORE = 3.5;
/** With fewer spots none can be called the odd one. */
const LEAST_SPOTS = 4;
/** A normal SD over its median absolute deviation. */
const SD_PER_MAD = 1 / 0.6745;

/**
 * Spots far from the others, by the modified z-score of the median absolute deviation (Iglewicz & Hoaglin 1993, How to
 * Detect and Handle Outliers). The robust SD is never taken below what chance gives at the median, so that one plant
 * more is no outlier among equal spots. Flagged for a second look; the field's mean keeps them.
 */
export function outlierSpots(spots: readonly FieldSpot[]): readonly OutlierSpot[] {
  if (spots.length < LEAST_SPOTS) return [];
  const densities = Float64Array.from(spots, densityOf);
  const middle = median(densities);
  const mad = median(densities.map((density) => Math.abs(density - middle)));
  const odd: OutlierSpot[] = [];
  for (let i = 0; i < spots.length; i++) {
    const byChance = Math.sqrt(middle / spots[i]!.areaM2);
    const sd = Math.max(SD_PER_MAD * mad, byChance);
    const away = densities[i]! - middle;
    const score = sd > 0 ? away / sd : null;
    if (score === null ? away === 0 : Math.abs(score) <= OUTLIER_SCORE) continue;
    odd.push({ id: spots[i]!.id, score, side: away < 0 ? 'low' : 'high' });
  }
  return odd;
}

function median(values: Float64Array): number {
  const sorted = values.slice().sort();
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}
