import type { Field } from '../raster/raster.ts';

export interface GreenThreshold {
  /** Vegetation index above which a pixel is leaf. */
  readonly leaf: number;
  /** Above which a pixel next to leaf belongs to it (pale cotyledons, stems, glare). */
  readonly support: number;
  /** Index of the soil: the commonest value, and the spread below it as a standard deviation. */
  readonly soil: number;
  readonly soilSd: number;
  /** Share of the content above `leaf`. */
  readonly cover: number;
}

/** Leaf thresholds stay within these limits whatever the histogram says; grey has -0.13, a pale leaf about 0. */
const LOWEST_LEAF = -0.05;
const HIGHEST_LEAF = 0.09;
const BIN = 1 / 256;
const FROM = -1.2;
const BINS = 768;
/** Every third pixel is plenty for a histogram; three has no factor in common with usual widths of repeated grain. */
const STRIDE = 3;

/**
 * Where leaf begins on the vegetation index. Otsu's method breaks where there is little or no green (it then cuts the
 * soil in two), and the built-in zero of Meyer & Neto (2008) breaks on greenish soil; so the cut is set off the soil's
 * own spread: the highest peak of the histogram below any leaf, and its half width at half height on the side where no
 * plant can disturb it. The cut is held between two absolute limits: on bare soil nothing passes, and under a closed
 * canopy the limits decide.
 */
export function greenThreshold(index: Field<Float32Array>): GreenThreshold {
  const bins = new Float64Array(BINS);
  let n = 0;
  for (let i = 0; i < index.data.length; i += STRIDE) {
    const v = index.data[i]!;
    if (v < -2) continue;
    bins[binOf(v)]!++;
    n++;
  }
  const smooth = movingSum(bins, 3);
  let peak = 0;
  for (let k = 0; k <= binOf(HIGHEST_LEAF); k++) if (smooth[k]! > smooth[peak]!) peak = k;
  let half = peak;
  while (half > 0 && smooth[half]! > smooth[peak]! / 2) half--;
  const soil = FROM + (peak + 0.5) * BIN;
  const soilSd = Math.max(0.012, ((peak - half) * BIN) / 1.18);
  const leaf = Math.max(LOWEST_LEAF, Math.min(HIGHEST_LEAF, soil + Math.max(0.09, 4 * soilSd)));
  const support = Math.max(leaf - 0.06, Math.min(leaf, soil + 2.5 * soilSd));
  let above = 0;
  for (let k = binOf(leaf); k < BINS; k++) above += bins[k]!;
  return { leaf, support, soil, soilSd, cover: n === 0 ? 0 : above / n };
}

function binOf(v: number): number {
  return Math.max(0, Math.min(BINS - 1, Math.floor((v - FROM) / BIN)));
}

function movingSum(bins: Float64Array, reach: number): Float64Array {
  return bins.map((_, k) => {
    let sum = 0;
    for (let j = Math.max(0, k - reach); j <= Math.min(bins.length - 1, k + reach); j++) sum += bins[j]!;
    return sum;
  });
}
