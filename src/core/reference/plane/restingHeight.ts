/** A height above the mean soil with its doubt (1 sd), metres. */
export interface Height {
  readonly heightM: number;
  readonly sdM: number;
}

/**
 * Standard deviation of the soil's height in a planted row crop field, slope and ridges aside. Random roughness is about
 * 10 mm when a row planter leaves the field (USDA Agriculture Handbook 703, from memory) and rain wears it down to no
 * less than 6 mm (0.24 in, USDA Wind Erosion Prediction System, subroutine rough, rrmin); two to three weeks later it is
 * taken as half way.
 */
const ROUGHNESS_M = 0.008;

/**
 * How high things lie on such soil, counted from their underside. The highest of a few clods stands half a standard
 * deviation over the mean, that of twenty or more nearly two (order statistics of a normal distribution). A tape, limp
 * and about a clod wide, lies on the first; a sheet that weighs nothing lies on three of some thirty but sags and is
 * pressed down; bars touch the highest too, but their weight sets them into loose crumbs. How far they sag and sink is
 * plain reasoning, no source; the doubts are about as large as the heights. Hand marks are taken to be on a tape.
 */
export const RESTING_HEIGHT: Readonly<Record<'tape' | 'marks' | 'rod' | 'frame' | 'cards', Height>> = {
  tape: { heightM: 0.5 * ROUGHNESS_M, sdM: 0.5 * ROUGHNESS_M },
  marks: { heightM: 0.5 * ROUGHNESS_M, sdM: 0.5 * ROUGHNESS_M },
  rod: { heightM: 0.75 * ROUGHNESS_M, sdM: 0.75 * ROUGHNESS_M },
  frame: { heightM: 0.75 * ROUGHNESS_M, sdM: 0.75 * ROUGHNESS_M },
  cards: { heightM: ROUGHNESS_M, sdM: ROUGHNESS_M },
};
