import type { TargetRow } from '../../core/targets/targetRow.ts';
import { assessVisit } from '../../core/visit/assessVisit.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';

/**
 * The verdict a visit is filed under: "keep", "wait", "cost replant" or "too few spots". Null where the engine cannot
 * answer: such a visit must still be kept and found.
 */
export function verdictOf(visit: VisitDocument, targets: readonly TargetRow[]): string | null {
  try {
    return assessVisit(visit, { targets }).decision.verdict.kind;
  } catch {
    return null;
  }
}
