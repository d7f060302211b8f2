import type { CameraView } from './cameraView.ts';
import type { PlantScale } from './groupScore.ts';
import type { LeafPart, PartContact } from './leafParts.ts';
import { gapMm, type PartGroup } from './partGroup.ts';

/** Pairs of parts near enough for one plant, with what their contact says for (above 0) or against it. */
export interface PartLinks {
  readonly list: readonly { readonly a: number; readonly b: number }[];
  readonly byPair: ReadonlyMap<number, number>;
}

/** Gaps between the parts of one plant (petioles, hidden stem) are not wider than this share of its span. */
const FURTHEST_GAP_SHARE = 0.5;
const UNLINKED = -50;

export function partLinks(
  parts: readonly LeafPart[],
  contacts: readonly PartContact[],
  view: CameraView,
  scale: PlantScale,
): PartLinks {
  const byPair = new Map<number, number>();
  const list: { a: number; b: number }[] = [];
  const add = (a: number, b: number, score: number): void => {
    byPair.set(pairKey(a, b), score);
    list.push({ a, b });
  };
  // touching: a deep waist says two leaves or two plants, a shallow one says one organ cut in two
  for (const { a, b, passShare } of contacts) add(a, b, 1.5 * (passShare - 0.5));
  const gapLimitMm = FURTHEST_GAP_SHARE * scale.spanMm;
  for (const p of parts) {
    for (const q of parts) {
      if (q.id <= p.id || byPair.has(pairKey(p.id, q.id))) continue;
      const reachPx = (3 * gapLimitMm + p.lengthMm + q.lengthMm) / view.mmPerPx;
      if (Math.abs(p.centrePx[0] - q.centrePx[0]) > reachPx || Math.abs(p.centrePx[1] - q.centrePx[1]) > reachPx)
        continue;
      if (gapMm(view, p.outlinePx, q.outlinePx) <= gapLimitMm) add(p.id, q.id, 0);
    }
  }
  return { list, byPair };
}

/** Best chain of links that holds the group together (Prim's tree on the link scores). */
export function linkScore(group: PartGroup, { byPair }: PartLinks): number {
  const ids = group.parts.map((p) => p.id);
  // the best link of each part outside the tree to a part inside it
  const reach = new Float64Array(ids.length).fill(Number.NEGATIVE_INFINITY);
  let sum = 0;
  for (let inside = 1, last = 0; inside < ids.length; inside++) {
    reach[last] = Number.NaN;
    let next = -1;
    for (let k = 0; k < ids.length; k++) {
      if (Number.isNaN(reach[k]!)) continue;
      const s = byPair.get(pairKey(ids[last]!, ids[k]!));
      if (s !== undefined && s > reach[k]!) reach[k] = s;
      if (next < 0 || reach[k]! > reach[next]!) next = k;
    }
    if (reach[next] === Number.NEGATIVE_INFINITY) return UNLINKED;
    sum += reach[next]!;
    last = next;
  }
  return sum;
}

/** Sets of part ids that hang together by links. */
export function linkedSets(parts: readonly LeafPart[], { list }: PartLinks): readonly (readonly LeafPart[])[] {
  const owner = new Map(parts.map((p) => [p.id, p.id]));
  const find = (a: number): number => {
    let at = a;
    while (owner.get(at) !== at) at = owner.get(at)!;
    owner.set(a, at);
    return at;
  };
  for (const { a, b } of list) owner.set(find(a), find(b));
  const sets = new Map<number, LeafPart[]>();
  for (const p of parts) {
    const root = find(p.id);
    const set = sets.get(root);
    if (set === undefined) sets.set(root, [p]);
    else set.push(p);
  }
  return [...sets.values()];
}

function pairKey(a: number, b: number): number {
  return Math.min(a, b) * 65536 + Math.max(a, b);
}
