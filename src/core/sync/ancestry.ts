import type { ChangeRecord } from './changeRecord.ts';

/** Whether the author of record `later` had record `earlier`, directly or through the records they built on. */
export type HadSeen = (later: string, earlier: string) => boolean;

/** Reads the parents of records about one thing. Parents that have not arrived yet are taken as known to nobody else. */
export function ancestry(records: readonly ChangeRecord[]): HadSeen {
  const byId = new Map(records.map((record) => [record.id, record]));
  const known = new Map<string, Set<string>>();
  const before = (id: string): Set<string> => {
    const found = known.get(id);
    if (found !== undefined) return found;
    const seen = new Set<string>();
    const queue = [...(byId.get(id)?.parents ?? [])];
    for (let next = queue.pop(); next !== undefined; next = queue.pop()) {
      if (seen.has(next)) continue;
      seen.add(next);
      queue.push(...(byId.get(next)?.parents ?? []));
    }
    known.set(id, seen);
    return seen;
  };
  return (later, earlier) => before(later).has(earlier);
}
