import { square } from '../statistics/square.ts';
/** What the distance of two neighbours in the row says for both being plants: a log-likelihood. */
export type NeighbourOdds = (gapMm: number) => number;

/** Usual distance between neighbours, and its spread as a natural logarithm, when the sowing is not known. */
const USUAL_MM = 85;
const USUAL_LOG_SD = 0.6;
/** With a known seed spacing: spread of a plant's place by planter and finder, and the share of seeds without a plant. */
const PLACE_SD_MM = 24;
const MISS_SHARE = 0.19;
const MOST_MISSED = 8;
/** Two seeds dropped as one, and how far apart they stand. */
const DOUBLE_SHARE = 0.064;
const DOUBLE_MM = 25;
/** Places of groups are rough, and neighbours share them: the odds count this much. */
const EVIDENCE_SHARE = 0.6;
const LEAST = 1e-5;
const TABLE_MM = 1200;

/**
 * Density of the distance between neighbouring plants times the usual distance, as a logarithm, by whole millimetres:
 * the next seed, or a later one where seeds gave no plant (geometric), each with a normal spread, or a double. Without a
 * known seed spacing a log-normal distance. The shape is that of ISO 7256-1 (1984): multiples of the theoretical
 * spacing; the shares were set on rendered rows.
 */
export function neighbourOdds(seedSpacingM: number | null): NeighbourOdds {
  const usualMm = seedSpacingM === null ? USUAL_MM : seedSpacingM * 1000;
  const next = seedSpacingM === null ? logNormal : sown(usualMm);
  const table = Float64Array.from({ length: TABLE_MM }, (_, mm) => {
    const double = (Math.exp(-0.5 * square(mm / DOUBLE_MM)) * 2) / (DOUBLE_MM * Math.sqrt(2 * Math.PI));
    return EVIDENCE_SHARE * Math.log(usualMm * ((1 - DOUBLE_SHARE) * next(mm) + DOUBLE_SHARE * double + LEAST));
  });
  return (gapMm) => table[Math.min(TABLE_MM - 1, Math.round(gapMm))]!;
}

function logNormal(mm: number): number {
  const d = Math.max(1, mm);
  const z = Math.log(d / USUAL_MM) / USUAL_LOG_SD;
  return Math.exp(-0.5 * z * z) / (d * USUAL_LOG_SD * Math.sqrt(2 * Math.PI));
}

function sown(spacingMm: number): (mm: number) => number {
  return (mm) => {
    let sum = 0;
    for (let k = 1; k <= MOST_MISSED; k++) {
      const z = (mm - k * spacingMm) / PLACE_SD_MM;
      sum += (1 - MISS_SHARE) * MISS_SHARE ** (k - 1) * Math.exp(-0.5 * z * z);
    }
    return sum / (PLACE_SD_MM * Math.sqrt(2 * Math.PI));
  };
}
