import { type CameraView, leanAt } from './cameraView.ts';
import type { LeafPart } from './leafParts.ts';
import type { PartGroup } from './partGroup.ts';
import { LEAST_TANGENT } from './stem.ts';

/** What one plant looks like at this stage in this photo. */
export interface PlantScale {
  readonly areaMm2: number;
  readonly spanMm: number;
  /** Share of its plants whose stem is seen, where the view is from the side. */
  readonly stemShare: number;
}

/** Spread of the leaf area of sound plants of one age (natural log), and the share that is late, torn or half hidden. */
const AREA_LOG_SD = 0.38;
const ODD_SHARE = 0.2;
/** A lone round lobe is more often half a plant than a plant, where the photo would show its parts. */
const LONE_LOBE_COST = 1.2;
const SEEN_HALF_WIDTH_PX = 5;
const LONE_STEM = -1.5;
const STEM_GAIN = 0.8;
const ACROSS_SHARE = 0.5;
const SECOND_STEM = 2.5;

/**
 * Log-likelihood that these parts are exactly one plant: leaf area about log-normal around the photo's typical plant
 * with a share of small ones, span not above the typical one, leaves around one crown, and at least two lobes (every
 * broadleaf seedling shows two cotyledons or two leaves).
 */
export function groupScore(group: PartGroup, view: CameraView, scale: PlantScale): number {
  const z = (Math.log(group.areaMm2) - Math.log(scale.areaMm2)) / AREA_LOG_SD;
  const sound = Math.exp(-0.5 * z * z) / (AREA_LOG_SD * Math.sqrt(2 * Math.PI));
  const ratio = group.areaMm2 / scale.areaMm2;
  const odd = ratio < 1.2 ? 0.32 : 0;
  let score = Math.log((1 - ODD_SHARE) * sound + ODD_SHARE * odd + 1e-6);
  const over = (group.spanMm / scale.spanMm - 1.15) / 0.2;
  if (over > 0) score -= 0.5 * over * over;
  score -= group.starCost;
  const { stems, leaves } = group;
  const sure = stems.map((s) => Math.max(0, Math.min(1, (s.strength - 0.5) / 0.4)));
  const surest = Math.max(0, ...sure);
  const second = SECOND_STEM * (sure.reduce((a, b) => a + b, 0) - surest);
  if (leaves === 0) return LONE_STEM - second;
  if (leaves === 1) {
    const leaf = group.parts.find((p) => p.stem === null)!;
    score -= (stems.length > 0 ? 0.5 : 1) * LONE_LOBE_COST * loneLobe(leaf, view);
  }
  return score + stemOdds(group, surest, view, scale) - second;
}

/** What a stem seen or not seen says, against the photo's average. */
function stemOdds(group: PartGroup, seen: number, view: CameraView, { stemShare }: PlantScale): number {
  const { away, tangent } = leanAt(view, group.crownPx);
  if (tangent < LEAST_TANGENT) return 0;
  // along the row the neighbour's leaves hide stems
  if (Math.abs(away[1]) < ACROSS_SHARE) return STEM_GAIN * seen;
  const yes = Math.log(stemShare);
  const no = Math.log(1 - stemShare);
  return (seen - stemShare) * (yes - no);
}

/** How surely a part is a single leaf and no more, 0 to 1: without a notch, longer than wide, and large enough to tell. */
function loneLobe({ solidity, lengthMm, widthMm }: LeafPart, view: CameraView): number {
  if (widthMm / 2 / view.mmPerPx <= SEEN_HALF_WIDTH_PX) return 0;
  const smooth = Math.max(0, Math.min(1, (solidity - 0.82) / 0.1));
  return smooth * (lengthMm > 1.2 * widthMm ? 1 : 0.6);
}
