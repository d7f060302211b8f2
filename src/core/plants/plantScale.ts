import type { Point } from '../geometry/point.ts';
import type { CameraView } from './cameraView.ts';
import { groupParts } from './groupParts.ts';
import { groupScore, type PlantScale } from './groupScore.ts';
import type { LeafPart, PartContact } from './leafParts.ts';
import type { NeighbourOdds } from './neighbourOdds.ts';
import type { Grouper, PartGroup } from './partGroup.ts';
import { weightedMedian } from './weightedMedian.ts';

/** Two opposite leaves span about this many times the square root of their common area. */
const SPAN_PER_ROOT_AREA = 2.2;
/** Leaf area of a plant over that of its typical large lobe: one blob in a coarse photo, two to five leaves otherwise. */
const LOBES = [
  { lobes: 1, priorLog: -2 },
  { lobes: 1.45, priorLog: -0.5 },
  { lobes: 2.1, priorLog: 0 },
  { lobes: 3, priorLog: -1.5 },
  { lobes: 4.3, priorLog: -2.5 },
  { lobes: 6, priorLog: -4 },
] as const;
/** How much one unit of mean group score counts against the spacing prior: scores of neighbours are not independent. */
const EVIDENCE_SHARE = 0.5;

/** Where the search begins: two leaves. */
const USUAL = 2;
const USUAL_STEM_SHARE = 0.7;

interface Tried extends ScaledGroups {
  readonly value: number;
}

export interface ScaledGroups {
  readonly scale: PlantScale;
  readonly groups: readonly PartGroup[];
}

/**
 * The typical plant of this photo and the partition that goes with it: several sizes of plant, as multiples of the
 * typical lobe, are tried from the commonest on, as long as the next one is likelier; the size taken lies where a parabola
 * through the best three has its top, so that two sizes nearly as likely do not take turns by a hair.
 *
 * @param priorLog log-prior of a number of plants among these parts (sowing distance), up to a constant.
 * @param neighbours what the distance of two neighbours says (`neighbourOdds`); null where nothing is known of a row.
 */
export function plantScale(
  parts: readonly LeafPart[],
  contacts: readonly PartContact[],
  view: CameraView,
  together: Grouper,
  priorLog: (plants: number) => number,
  neighbours: NeighbourOdds | null,
): ScaledGroups | null {
  const whole = parts.filter((p) => !p.cut && p.stem === null);
  if (whole.length === 0) return null;
  const lobe = weightedMedian(whole.map((p) => [p.areaMm2, p.areaMm2] as const));
  const tried = LOBES.map((): Tried | null => null);
  const at = (k: number): Tried => {
    tried[k] ??= trial(LOBES[k]!);
    return tried[k]!;
  };
  const trial = ({ lobes, priorLog: lobesLog }: { readonly lobes: number; readonly priorLog: number }): Tried => {
    const areaMm2 = lobes * lobe;
    const scale = { areaMm2, spanMm: SPAN_PER_ROOT_AREA * Math.sqrt(areaMm2), stemShare: USUAL_STEM_SHARE };
    const groups = groupParts(parts, contacts, view, scale, together, neighbours);
    const plants = groups.filter((g) => g.areaMm2 > 0.15 * areaMm2).length;
    const score = groups.reduce((sum, g) => sum + groupScore(g, view, scale), 0);
    return { scale, groups, value: EVIDENCE_SHARE * score + priorLog(plants) + lobesLog };
  };
  let k = USUAL;
  for (const step of [1, -1]) while (LOBES[k + step] !== undefined && at(k + step).value > at(k).value) k += step;
  const [below, best, above] = [tried[k - 1], at(k), tried[k + 1]];
  if (!below || !above) return best;
  const lobes = Math.exp(
    topOf([
      [Math.log(LOBES[k - 1]!.lobes), below.value],
      [Math.log(LOBES[k]!.lobes), best.value],
      [Math.log(LOBES[k + 1]!.lobes), above.value],
    ]),
  );
  return trial({ lobes, priorLog: 0 });
}

/** Where the parabola through three points, the middle one highest, has its top. */
function topOf([a, b, c]: readonly [Point, Point, Point]): number {
  const [before, after] = [(b[1] - a[1]) / (b[0] - a[0]), (c[1] - b[1]) / (c[0] - b[0])];
  const [from, to] = [(a[0] + b[0]) / 2, (b[0] + c[0]) / 2];
  return before > after ? from + ((to - from) * before) / (before - after) : b[0];
}
