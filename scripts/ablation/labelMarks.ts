import type { CountedPlant } from '../../src/core/count/countResult.ts';
import { applyHomography } from '../../src/core/geometry/homography.ts';
import type { MarkLabel } from '../../src/core/learning/example.ts';
import { matchPoints } from '../score/matchPoints.ts';
import type { SceneTruth } from '../score/sceneTruth.ts';
import { MATCH_WITHIN_M } from '../score/scoreScene.ts';

/** Crop plants nearer than this are a double. */
export const DOUBLE_M = 0.02;

/** Across the row a mark may lie this much farther off than along it and still be that plant's. */
const ACROSS_SHARE = 1 / 3;

/**
 * What every mark truly is, as somebody who looks at it would leave it: a mark over a plant is that plant, also where its
 * base was put too near or too far across the row. Neighbour rows are no plants of this row.
 */
export function labelMarks(plants: readonly CountedPlant[], truth: SceneTruth): readonly MarkLabel[] {
  const places = plants.map((p) => squeezed(applyHomography(truth.photoToGround, [p.xPx, p.yPx])));
  const of = (kind: (kind: string) => boolean) =>
    truth.plants.filter((p) => kind(p.kind)).map((p) => squeezed([p.alongM, p.acrossM]));
  const crop = of((kind) => kind === 'plant');
  const others = of((kind) => kind !== 'plant');
  const matching = matchPoints(places, crop, MATCH_WITHIN_M);
  const own = new Map(matching.pairs);
  const unseen = matching.missed.map((t) => crop[t]!);
  const near = (list: readonly Place[], at: Place, withinM: number) =>
    list.some(([x, y]) => Math.hypot(x - at[0], y - at[1]) <= withinM);
  return places.map((at, f): MarkLabel => {
    const t = own.get(f);
    if (t !== undefined) return near(unseen, crop[t]!, DOUBLE_M) ? 'double' : 'plant';
    return near(others, at, MATCH_WITHIN_M) ? 'weed' : 'not a plant';
  });
}

type Place = readonly [number, number];

function squeezed([alongM, acrossM]: Place): Place {
  return [alongM, acrossM * ACROSS_SHARE];
}
