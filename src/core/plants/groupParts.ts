import type { CameraView } from './cameraView.ts';
import { groupScore, type PlantScale } from './groupScore.ts';
import type { LeafPart, PartContact } from './leafParts.ts';
import { gapMm, type PartGroup, partGroup } from './partGroup.ts';

const FURTHEST_GAP_SHARE = 0.5;

/**
 * Puts leaf parts together into plants: starts from single parts and always joins the two groups whose union gains the
 * most likelihood, until none gains; then moves single parts between neighbours while that gains.
 */
export function groupParts(
  parts: readonly LeafPart[],
  contacts: readonly PartContact[],
  view: CameraView,
  scale: PlantScale,
): readonly PartGroup[] {
  const links = linkParts(parts, contacts, view, scale);
  const groups: (PartGroup | null)[] = parts.map((p) => partGroup([p], view));
  const score = (g: PartGroup): number => groupScore(g, view, scale) + linkScore(g, links);
  const scores = groups.map((g) => (g === null ? 0 : score(g)));
  const near = new Map<number, Set<number>>(parts.map((p) => [p.id, new Set<number>()]));
  for (const { a, b } of links.list) {
    near.get(a)!.add(b);
    near.get(b)!.add(a);
  }
  const gains = new Map<number, { readonly gain: number; readonly union: PartGroup; readonly unionScore: number }>();
  const key = (a: number, b: number): number => Math.min(a, b) * parts.length + Math.max(a, b);
  const weigh = (a: number, b: number): void => {
    const union = partGroup([...groups[a]!.parts, ...groups[b]!.parts], view);
    const unionScore = score(union);
    gains.set(key(a, b), { gain: unionScore - scores[a]! - scores[b]!, union, unionScore });
  };
  for (const { a, b } of links.list) if (!gains.has(key(a, b))) weigh(a, b);

  for (;;) {
    let bestKey = -1;
    let best = 0;
    for (const [k, { gain }] of gains) {
      if (gain > best) {
        best = gain;
        bestKey = k;
      }
    }
    if (bestKey < 0) break;
    const b = bestKey % parts.length;
    const a = (bestKey - b) / parts.length;
    const { union, unionScore } = gains.get(bestKey)!;
    groups[a] = union;
    groups[b] = null;
    scores[a] = unionScore;
    for (const c of near.get(b)!) {
      gains.delete(key(b, c));
      near.get(c)!.delete(b);
      if (c === a) continue;
      near.get(c)!.add(a);
      near.get(a)!.add(c);
    }
    near.delete(b);
    for (const c of near.get(a)!) weigh(a, c);
  }
  return groups.filter((g): g is PartGroup => g !== null);
}

interface Links {
  readonly list: readonly { readonly a: number; readonly b: number; readonly score: number }[];
  readonly byPair: ReadonlyMap<number, number>;
}

function linkParts(
  parts: readonly LeafPart[],
  contacts: readonly PartContact[],
  view: CameraView,
  scale: PlantScale,
): Links {
  const byPair = new Map<number, number>();
  const list: { a: number; b: number; score: number }[] = [];
  const add = (a: number, b: number, score: number): void => {
    byPair.set(pairKey(a, b), score);
    list.push({ a, b, score });
  };
  // touching: a deep waist says two leaves or two plants, a shallow one says one organ cut in two
  for (const { a, b, passShare } of contacts) add(a, b, 1.5 * (passShare - 0.5));
  const furthestPx = (FURTHEST_GAP_SHARE * scale.spanMm) / view.mmPerPx;
  for (const p of parts) {
    for (const q of parts) {
      if (q.id <= p.id || byPair.has(pairKey(p.id, q.id))) continue;
      const reach = furthestPx * 3 + (p.lengthMm + q.lengthMm) / view.mmPerPx;
      if (Math.abs(p.centrePx[0] - q.centrePx[0]) > reach || Math.abs(p.centrePx[1] - q.centrePx[1]) > reach) continue;
      const gap = gapMm(view, p.outlinePx, q.outlinePx);
      if (gap > FURTHEST_GAP_SHARE * scale.spanMm) continue;
      add(p.id, q.id, 0);
    }
  }
  return { list, byPair };
}

/** Best chain of links that holds the group together (Prim's tree on the link scores). */
function linkScore(group: PartGroup, { byPair }: Links): number {
  const rest = new Set(group.parts.map((p) => p.id));
  const first = group.parts[0]!.id;
  rest.delete(first);
  const inside = [first];
  let sum = 0;
  while (rest.size > 0) {
    let best = -8;
    let next = -1;
    for (const r of rest) {
      for (const i of inside) {
        const s = byPair.get(pairKey(i, r));
        if (s !== undefined && (s > best || next < 0)) {
          best = s;
          next = r;
        }
      }
    }
    if (next < 0) return -50;
    sum += best;
    inside.push(next);
    rest.delete(next);
  }
  return sum;
}

function pairKey(a: number, b: number): number {
  return Math.min(a, b) * 65536 + Math.max(a, b);
}
