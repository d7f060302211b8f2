import { square } from '../statistics/square.ts';
import { type CameraView, leanAt } from './cameraView.ts';
import type { PlantScale } from './groupScore.ts';
import type { PartGroup } from './partGroup.ts';
import { lowestGreenMm } from './stemBase.ts';

/** Spread (natural log) of the height expected from leaf size alone, and of the height seen from the side. */
const EXPECTED_LOG_SD = 0.35;
const SEEN_LOG_SD = 0.2;
/** The stem's foot is often too brown to be seen: what is seen is this much short. */
const HIDDEN_FOOT = 1.15;
/** Below this tangent of the viewing angle leaves hide the stem. */
const SIDE_TANGENT = 0.6;
/** The sight must run across the row: along it, the neighbour's leaves reach in. */
const ACROSS_SHARE = 0.5;
const FEWEST = 4;

/**
 * How high the crowns of a photo's typical plants stand, in millimetres: expected from the size of their leaves, and,
 * where the view is from the side, seen as the reach of their green from the crown toward the camera (the upper third of
 * the plants, because in the others the stem is hidden). The two are weighted by their precision.
 */
export function crownHeight(
  groups: readonly PartGroup[],
  view: CameraView,
  scale: PlantScale,
  expectedMm: number,
): number {
  const footed = groups
    .filter(
      (g) => g.stems.length > 0 && g.leaves > 0 && g.areaMm2 > 0.5 * scale.areaMm2 && g.areaMm2 < 2 * scale.areaMm2,
    )
    .map((g) => {
      const { footPx } = g.stems[0]!;
      const { away, tangent } = leanAt(view, footPx);
      return (((g.crownPx[0] - footPx[0]) * away[0] + (g.crownPx[1] - footPx[1]) * away[1]) * view.mmPerPx) / tangent;
    })
    .sort((a, b) => a - b);
  if (footed.length >= FEWEST) return footed[footed.length >> 1]!;
  const seen = groups
    .filter((g) => g.areaMm2 > 0.5 * scale.areaMm2 && g.areaMm2 < 2 * scale.areaMm2)
    .map((g) => ({ ...leanAt(view, g.crownPx), low: lowestGreenMm(g, view) }))
    .filter(({ tangent, away, low }) => tangent > SIDE_TANGENT && Math.abs(away[1]) > ACROSS_SHARE && low > 0)
    .map(({ tangent, low }) => low / tangent)
    .sort((a, b) => a - b);
  if (seen.length < FEWEST) return expectedMm;
  const seenMm = HIDDEN_FOOT * seen[Math.floor(0.67 * seen.length)]!;
  const we = 1 / square(EXPECTED_LOG_SD);
  const ws = 1 / square(SEEN_LOG_SD);
  return Math.exp((we * Math.log(expectedMm) + ws * Math.log(seenMm)) / (we + ws));
}
