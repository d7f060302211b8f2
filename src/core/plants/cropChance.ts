import type { PlantScale } from './groupScore.ts';
import type { PartGroup } from './partGroup.ts';

/** What speaks for and against a group of leaves being one crop plant. */
export interface CropEvidence {
  readonly group: PartGroup;
  /** Distance of its base from the row line in millimetres, and the row's spread; null where there is no row line. */
  readonly offRowMm: number | null;
  readonly rowSdMm: number;
  /** Difference of its colour from the typical crop plant's, in units of that population's spread. */
  readonly colourDistance: number;
}

/** Log-odds that the group is a crop plant, from place, size, shape and colour. */
export function cropLogOdds({ group, offRowMm, rowSdMm, colourDistance }: CropEvidence, scale: PlantScale): number {
  let odds = 2.6;
  if (offRowMm !== null) {
    const z = Math.abs(offRowMm) / Math.hypot(rowSdMm, 0.15 * scale.spanMm, 10);
    odds -= Math.min(7, z <= 1 ? 0 : 0.5 * (z * z - 1));
  }
  const ratio = group.areaMm2 / scale.areaMm2;
  if (ratio < 0.3) odds -= 1.3 * Math.log(0.3 / ratio);
  if (ratio > 2.5) odds -= 2 * Math.log(ratio / 2.5);
  odds -= 1.5 * Math.max(0, grassiness(group) - 0.3);
  odds -= 0.15 * Math.min(16, Math.max(0, colourDistance ** 2 - 4));
  if (group.spanMm > 1.5 * scale.spanMm) odds -= 2 * (group.spanMm / scale.spanMm - 1.5);
  return odds;
}

/** Share of the leaf area in blades more than four times as long as wide. */
function grassiness(group: PartGroup): number {
  const blades = group.parts.filter((p) => p.lengthMm > 4 * p.widthMm);
  return blades.reduce((sum, p) => sum + p.areaMm2, 0) / group.areaMm2;
}
