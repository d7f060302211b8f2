import type { Verdict } from '../decision/verdict.ts';
import { applyCorrections } from './applyCorrections.ts';
import { type AssessContext, assessVisit } from './assessVisit.ts';
import type { VisitDocument } from './visitSchema.ts';

/** Later than any record, so that it is replayed last. */
const LAST = '9999-12-31T00:00:00Z';

/**
 * Whether the doubt of one photo's count can change the visit's verdict: the whole visit is assessed with the count as
 * it stands and at both ends of its interval. Null where no verdict can be told either way, for want of spots: the
 * count's own place against the floor is then the better guide.
 */
export function countDecides(visit: VisitDocument, countId: string, context: AssessContext = {}): boolean | null {
  const count = visit.spots.flatMap((spot) => spot.counts).find((one) => one.id === countId);
  if (count?.kind !== 'photo') return null;
  const { count: now, leftOut } = applyCorrections(count, visit.corrections ?? []);
  if (leftOut !== null || now.kind !== 'photo') return null;
  const { value, low, high } = now.result.count;
  const verdicts = [...new Set([Math.round(value), low, high])].map((plants) =>
    wordOf(assessVisit(withPlants(visit, countId, Math.round(plants)), context).decision.verdict),
  );
  if (verdicts.every((word) => word === 'too few spots')) return null;
  return new Set(verdicts).size > 1;
}

function withPlants(visit: VisitDocument, countId: string, plants: number): VisitDocument {
  const id = 'what if';
  const change = { kind: 'set plants', plants } as const;
  return { ...visit, corrections: [...(visit.corrections ?? []), { id, at: LAST, by: id, countId, change }] };
}

/** A verdict without its numbers: another day to recount or one spot more is no other verdict. */
function wordOf(verdict: Verdict): string {
  if (verdict.kind !== 'cost replant') return verdict.kind;
  return verdict.scope === 'zones' ? `replant ${verdict.zones.join(', ')}` : 'replant';
}
