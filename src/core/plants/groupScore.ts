import type { PartGroup } from './partGroup.ts';

/** What one plant looks like at this stage in this photo. */
export interface PlantScale {
  readonly areaMm2: number;
  readonly spanMm: number;
}

/** Spread of the leaf area of sound plants of one age (natural log), and the share that is late, torn or half hidden. */
const AREA_LOG_SD = 0.38;
const ODD_SHARE = 0.2;

/**
 * Log-likelihood that these parts are exactly one plant: leaf area about log-normal around the photo's typical plant
 * with a share of small ones, span not above the typical one, and at least two lobes when it is full sized (every
 * broadleaf seedling shows two cotyledons or two leaves; one round lobe alone is half a plant).
 */
export function groupScore(group: PartGroup, scale: PlantScale): number {
  const z = (Math.log(group.areaMm2) - Math.log(scale.areaMm2)) / AREA_LOG_SD;
  const sound = Math.exp(-0.5 * z * z) / (AREA_LOG_SD * Math.sqrt(2 * Math.PI));
  const ratio = group.areaMm2 / scale.areaMm2;
  const odd = ratio < 1.2 ? 1 / 4 : 0;
  let score = Math.log((1 - ODD_SHARE) * sound + ODD_SHARE * odd + 1e-6);
  const over = (group.spanMm / scale.spanMm - 1.15) / 0.2;
  if (over > 0) score -= 0.5 * over * over;
  return score;
}
