import type { CameraView } from './cameraView.ts';
import type { PlantScale } from './groupScore.ts';
import type { LeafPart, PartContact } from './leafParts.ts';
import { gapMm, type PartGroup, partGroup } from './partGroup.ts';
import { weightedMedian } from './weightedMedian.ts';

/** Two opposite leaves span about this many times the square root of their common area. */
const SPAN_PER_ROOT_AREA = 2.1;

/**
 * The typical plant of this photo, from clusters that stand alone: parts closer than a share of a typical lobe's size
 * are one cluster, and a cluster with no other near is taken for one plant.
 */
export function plantScale(
  parts: readonly LeafPart[],
  contacts: readonly PartContact[],
  view: CameraView,
): PlantScale | null {
  const whole = parts.filter((p) => !p.cut);
  if (whole.length === 0) return null;
  const lobe = weightedMedian(whole.map((p) => [p.areaMm2, p.areaMm2] as const));
  const reach = 0.45 * Math.sqrt(lobe);
  const clusters = clusterParts(parts, contacts, view, reach);
  const alone = clusters.filter(
    (c) =>
      c.areaMm2 > 0.5 * lobe &&
      c.parts.every((p) => !p.cut) &&
      c.spanMm < 4.5 * Math.sqrt(lobe) &&
      clusters.every(
        (o) => o === c || o.areaMm2 < 0.2 * c.areaMm2 || gapMm(view, c.outlinePx, o.outlinePx) > 2 * reach,
      ),
  );
  if (alone.length >= 3) {
    const areaMm2 = weightedMedian(alone.map((c) => [c.areaMm2, Math.sqrt(c.areaMm2)] as const));
    const like = alone.filter((c) => c.areaMm2 > areaMm2 / 2 && c.areaMm2 < areaMm2 * 2);
    return { areaMm2, spanMm: weightedMedian(like.map((c) => [c.spanMm, 1] as const)) };
  }
  return { areaMm2: 1.8 * lobe, spanMm: SPAN_PER_ROOT_AREA * Math.sqrt(1.8 * lobe) };
}

function clusterParts(
  parts: readonly LeafPart[],
  contacts: readonly PartContact[],
  view: CameraView,
  reachMm: number,
): readonly PartGroup[] {
  const owner = parts.map((p) => p.id);
  const find = (a: number): number => {
    let at = a;
    while (owner[at] !== at) at = owner[at]!;
    return at;
  };
  for (const { a, b } of contacts) owner[find(a)] = find(b);
  for (const p of parts) {
    for (const q of parts) {
      if (q.id <= p.id || find(p.id) === find(q.id)) continue;
      const far = (p.lengthMm + q.lengthMm + 4 * reachMm) / view.mmPerPx;
      if (Math.abs(p.centrePx[0] - q.centrePx[0]) > far || Math.abs(p.centrePx[1] - q.centrePx[1]) > far) continue;
      if (gapMm(view, p.outlinePx, q.outlinePx) <= reachMm) owner[find(p.id)] = find(q.id);
    }
  }
  const lists = new Map<number, LeafPart[]>();
  for (const p of parts) {
    const root = find(p.id);
    lists.set(root, [...(lists.get(root) ?? []), p]);
  }
  return [...lists.values()].map((list) => partGroup(list, view));
}
