import type { CountedPlant } from '../../src/core/count/countResult.ts';
import { applyHomography } from '../../src/core/geometry/homography.ts';
import type { SceneTruth } from '../score/sceneTruth.ts';
import { MATCH_WITHIN_M } from '../score/scoreScene.ts';

/** True pairs stand this far apart. */
const PAIR_M = [0.01, 0.02] as const;
/** Nothing else stands nearer to a pair or to a single. */
const ALONE_M = 0.06;

/** What became of true pairs and singles that stand clear of others. */
export interface Doubles {
  readonly pairs: number;
  /** Pairs with two marks called plant. */
  readonly twoMarks: number;
  /** Pairs with one mark that is itself said to be a double (chance from 0.5 on). */
  readonly saidDouble: number;
  readonly singles: number;
  /** Singles with more than one mark called plant. */
  readonly split: number;
}

type Place = readonly [number, number];

/** Counts marks called plant by the true plant they lie nearest to, within the matching distance. */
export function doublesIn(plants: readonly CountedPlant[], truth: SceneTruth): Doubles {
  const crop = truth.plants.filter((p) => p.kind === 'plant').map((p): Place => [p.alongM, p.acrossM]);
  const inStretch = truth.plants.filter((p) => p.kind === 'plant').map((p) => p.inStretch);
  const marks = crop.map((): CountedPlant[] => []);
  for (const plant of plants.filter((p) => p.kind === 'plant')) {
    const at = applyHomography(truth.photoToGround, [plant.xPx, plant.yPx]);
    const away = crop.map((place) => apart(place, at));
    const nearest = Math.min(...away);
    if (nearest <= MATCH_WITHIN_M) marks[away.indexOf(nearest)]!.push(plant);
  }
  const out = { pairs: 0, twoMarks: 0, saidDouble: 0, singles: 0, split: 0 };
  for (const [i, place] of crop.entries()) {
    if (!inStretch[i]) continue;
    const others = crop.map((other, j) => ({ j, away: apart(place, other) })).filter(({ j }) => j !== i);
    const close = others.filter(({ away }) => away < ALONE_M);
    if (close.length === 0) {
      out.singles++;
      if (marks[i]!.length > 1) out.split++;
      continue;
    }
    const [{ j, away }] = close as [{ j: number; away: number }];
    if (close.length > 1 || j < i || away < PAIR_M[0] || away > PAIR_M[1]) continue;
    if (crop.some((other, k) => k !== i && k !== j && apart(crop[j]!, other) < ALONE_M)) continue;
    out.pairs++;
    const both = [...marks[i]!, ...marks[j]!];
    if (both.length >= 2) out.twoMarks++;
    else if (both.some((mark) => mark.doubleChance >= 0.5)) out.saidDouble++;
  }
  return out;
}

function apart(a: Place, b: Place): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
