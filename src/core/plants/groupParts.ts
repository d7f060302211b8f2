import { type CameraView, groundBelow } from './cameraView.ts';
import { groupScore, type PlantScale } from './groupScore.ts';
import type { LeafPart, PartContact } from './leafParts.ts';
import { mergeParts } from './mergeParts.ts';
import { moveParts } from './moveParts.ts';
import type { NeighbourOdds } from './neighbourOdds.ts';
import type { Grouper, PartGroup } from './partGroup.ts';
import { linkedSets, linkScore, partLinks } from './partLinks.ts';
import { rowCost, type Standing } from './rowCost.ts';
import { sequenceParts } from './sequenceParts.ts';

/** Groups below this share of a plant's area may be weeds or bits: their distance says nothing. */
const NEIGHBOUR_SHARE = 0.12;

/**
 * Puts leaf parts together into plants. Each set of parts near one another is divided twice: by joining the two groups
 * that gain most until none gains (any shape of plant, but it may lock itself in), and by the best division of the
 * parts in order along the row (never locked in, but plants may not interleave). The likelier division is kept.
 *
 * @param neighbours what the distance of neighbours along the row says; null off the row.
 * @param thorough tries at the end whether single parts are better placed elsewhere (`moveParts`).
 */
export function groupParts(
  parts: readonly LeafPart[],
  contacts: readonly PartContact[],
  view: CameraView,
  scale: PlantScale,
  together: Grouper,
  neighbours: NeighbourOdds | null = null,
  thorough = false,
  standing: Standing | null = null,
): readonly PartGroup[] {
  const links = partLinks(parts, contacts, view, scale);
  const judge = remembered<number>(
    (g) =>
      groupScore(g, view, scale) + linkScore(g, links) - (standing === null ? 0 : rowCost(g, standing, view, scale)),
  );
  const placeMm = remembered<number>(
    (g) => (g.stems[0]?.footPx ?? groundBelow(view, g.crownPx, 0.5 * scale.spanMm))[0] * view.mmPerPx,
  );
  const counts = (g: PartGroup): boolean => g.areaMm2 >= NEIGHBOUR_SHARE * scale.areaMm2;
  const between = (a: PartGroup, b: PartGroup): number =>
    neighbours === null || !counts(a) || !counts(b) ? 0 : neighbours(Math.abs(placeMm(b) - placeMm(a)));
  const total = (groups: readonly PartGroup[]): number => {
    const sum = groups.reduce((all, g) => all + judge(g), 0);
    if (neighbours === null) return sum;
    const row = groups.filter(counts).sort((a, b) => placeMm(a) - placeMm(b));
    return row.reduce((all, g, k) => (k === 0 ? all : all + between(row[k - 1]!, g)), sum);
  };
  const along = new Map(
    parts.map((p) => [p.id, (p.stem?.footPx ?? groundBelow(view, p.centrePx, 0.5 * scale.spanMm))[0]]),
  );
  return linkedSets(parts, links).flatMap((set) => {
    if (set.length === 1) return [together(set)];
    const ids = new Set(set.map((p) => p.id));
    const near = links.list.filter(({ a }) => ids.has(a));
    const merged = mergeParts(set, near, together, judge);
    const ordered = [...set].sort((p, q) => along.get(p.id)! - along.get(q.id)! || p.id - q.id);
    const sequenced = sequenceParts(ordered, together, judge, between, {
      areaMm2: 4 * scale.areaMm2,
      spanMm: 2 * scale.spanMm,
    });
    const better = total(sequenced) > total(merged) ? sequenced : merged;
    return thorough ? moveParts(better, near, together, judge, total) : better;
  });
}

function remembered<T>(of: (group: PartGroup) => T): (group: PartGroup) => T {
  const known = new Map<PartGroup, T>();
  return (group) => {
    let value = known.get(group);
    if (value === undefined) {
      value = of(group);
      known.set(group, value);
    }
    return value;
  };
}
