import { norm } from '../geometry/norm.ts';
import { type CameraView, leanAt } from './cameraView.ts';
import type { PlantScale } from './groupScore.ts';
import type { PartGroup } from './partGroup.ts';
import { offRowMm, type StripRow } from './rowParts.ts';
import { LEAST_TANGENT } from './stem.ts';

/** Where plants are to stand. */
export interface Standing {
  readonly row: StripRow;
  /** Crowns stand between the soil and this. */
  readonly tallestMm: number;
}

/** How far a crown, as it is placed, is from above its stem's foot: stems lean, leaves are hidden. */
const CROWN_SD_MM = 16;
const MOST_COST = 2.5;
/** Groups below this share of a plant's area say less. */
const WHOLE_SHARE = 0.35;

/**
 * What it costs a group that its leaves do not meet over the row (a negative log-likelihood): a leaf on either side of the
 * row is one plant sooner than two beside it.
 */
export function rowCost(group: PartGroup, { row, tallestMm }: Standing, view: CameraView, scale: PlantScale): number {
  if (leanAt(view, group.crownPx).tangent > LEAST_TANGENT) return 0;
  const sd = norm(CROWN_SD_MM, row.sdPx * view.mmPerPx);
  const off = offRowMm(group.crownPx, row, view, tallestMm) / sd;
  return Math.min(MOST_COST, 0.5 * off * off) * Math.min(1, group.areaMm2 / (WHOLE_SHARE * scale.areaMm2));
}
