import type { VisitDocument } from '../../core/visit/visitSchema.ts';

/** What a visit is filed under: the newest decision a person took; null where none was taken. */
export function verdictOf(visit: unknown): string | null {
  const decisions = (visit as VisitDocument).decisions ?? [];
  return decisions.reduce((a, b) => (a !== null && a.at > b.at ? a : b), decisions[0] ?? null)?.choice ?? null;
}
