import type { PlantScale } from './groupScore.ts';
import type { PartGroup } from './partGroup.ts';

/** What speaks for and against a group of leaves being one crop plant. */
export interface CropEvidence {
  readonly group: PartGroup;
  /** Distance of its free base from the row line over the spread expected there; null where there is no row line. */
  readonly offRow: number | null;
  /** Distance to the nearest larger group's middle, as a share of a plant's span. */
  readonly crowding: number;
  /** Whether stems can be seen there. */
  readonly side: boolean;
  /** Distance of its colour from the row's, in spreads from plant to plant; 0 where the row's is not known. */
  readonly offColour: number;
}

/** Log-odds of a sound group on the row line; the others are steps away from it. */
const SOUND = 2.4;
/** A stem seen to stand on the row. */
const STEM = 1.5;
/** A stem without leaves of its own: a hook, a late plant, or a stalk. */
const BARE_STEM = -2.8;
/** Colour counts from so many spreads on. */
const COLOUR_SDS = 1.8;
const STRANGE = 0.7;
/** No seedling's single leaf is longer or larger; what is larger is cloth, a boot, an older plant. */
const LONGEST_LEAF_MM = 170;
const LARGEST_LEAF_MM2 = 9000;

/**
 * Chance that the group is exactly one crop plant, from its place, size, shape and surroundings. The steps were set from
 * how often groups of each kind were right in drawn strips (scripts/plants-check.ts prints the reliability in scenes).
 */
export function cropChance({ group, offRow, crowding, side, offColour }: CropEvidence, scale: PlantScale): number {
  let odds = SOUND;
  if (offRow !== null) odds -= Math.min(7, offRow * offRow);
  const ratio = group.areaMm2 / scale.areaMm2;
  const stem = Math.max(0, ...group.stems.map((s) => Math.min(1, (s.strength - 0.5) / 0.4)));
  odds += STEM * stem;
  if (side) odds += (1 - stem) * Math.log(Math.min(1, 1.3 * (1 - scale.stemShare)));
  const strange = Math.max(0, offColour - COLOUR_SDS);
  odds -= Math.min(4, STRANGE * strange * strange);
  if (group.leaves === 0) odds += BARE_STEM;
  else if (ratio < 0.12) odds -= 1.3 * Math.log(0.12 / ratio);
  if (ratio > 1.8) odds -= 1.5 * Math.log(ratio / 1.8);
  if (group.spanMm > 1.5 * scale.spanMm) odds -= 2 * (group.spanMm / scale.spanMm - 1.5);
  if (crowding < 0.4 && group.leaves > 0) odds -= 1;
  odds -= 2 * Math.max(0, bladeShare(group) - 0.4);
  if (group.parts.some((p) => p.cut)) odds -= 1.2;
  const leaves = group.parts.filter((p) => p.stem === null);
  if (leaves.length === 1 && leaves[0]!.solidity < 0.7) odds -= 0.8;
  if (leaves.some((p) => p.lengthMm > LONGEST_LEAF_MM || p.areaMm2 > LARGEST_LEAF_MM2)) odds -= 4;
  return 1 / (1 + Math.exp(-odds));
}

/** Share of the leaf area in blades more than four times as long as wide (grass). */
function bladeShare(group: PartGroup): number {
  const blades = group.parts.filter((p) => p.stem === null && p.lengthMm > 4 * p.widthMm);
  return blades.reduce((sum, p) => sum + p.areaMm2, 0) / group.areaMm2;
}
