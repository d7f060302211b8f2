import { type CameraView, groundBelow } from './cameraView.ts';
import { groupScore, type PlantScale } from './groupScore.ts';
import type { LeafPart, PartContact } from './leafParts.ts';
import { mergeParts } from './mergeParts.ts';
import type { Grouper, GroupJudge, PartGroup } from './partGroup.ts';
import { linkedSets, linkScore, partLinks } from './partLinks.ts';
import { sequenceParts } from './sequenceParts.ts';

/**
 * Puts leaf parts together into plants. Each set of parts near one another is divided twice: by joining the two groups
 * that gain most until none gains (any shape of plant, but it may lock itself in), and by the best division of the
 * parts in order along the row (never locked in, but plants may not interleave). The likelier division is kept.
 */
export function groupParts(
  parts: readonly LeafPart[],
  contacts: readonly PartContact[],
  view: CameraView,
  scale: PlantScale,
  together: Grouper,
): readonly PartGroup[] {
  const links = partLinks(parts, contacts, view, scale);
  const judge: GroupJudge = (g) => groupScore(g, view, scale) + linkScore(g, links);
  const along = new Map(parts.map((p) => [p.id, groundBelow(view, p.centrePx, 0.5 * scale.spanMm)[0]]));
  return linkedSets(parts, links).flatMap((set) => {
    if (set.length === 1) return [together(set)];
    const ids = new Set(set.map((p) => p.id));
    const near = links.list.filter(({ a }) => ids.has(a));
    const merged = mergeParts(set, near, together, judge);
    const ordered = [...set].sort((p, q) => along.get(p.id)! - along.get(q.id)! || p.id - q.id);
    const sequenced = sequenceParts(ordered, together, judge, {
      areaMm2: 4 * scale.areaMm2,
      spanMm: 2 * scale.spanMm,
    });
    return total(sequenced, judge) > total(merged, judge) ? sequenced : merged;
  });
}

function total(groups: readonly PartGroup[], judge: GroupJudge): number {
  return groups.reduce((sum, g) => sum + judge(g), 0);
}
