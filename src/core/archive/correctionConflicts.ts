import type { Correction as Written } from '../corrections/correction.ts';
import { standingChanges } from '../corrections/standingChanges.ts';
import { ancestry } from '../sync/ancestry.ts';
import { canonicalJson } from '../sync/canonicalJson.ts';
import type { ChangeRecord } from '../sync/changeRecord.ts';
import { isJsonObject, type Json } from '../sync/json.ts';
import type { Conflict, Head, MergedThing } from '../sync/mergeRecords.ts';
import { childPath } from '../sync/path.ts';

interface Correction {
  readonly subject: string;
  readonly change: Json;
  readonly head: Head;
}

/**
 * Corrections of one detection (or of one counted row) that two people made without having seen each other's, and that
 * differ. The corrections themselves are all kept: a visit only ever adds to that list. A later correction of the same
 * detection by somebody who had seen both settles it. The side first in a conflict is the one replayed last, which stands.
 */
export function correctionConflicts(records: readonly ChangeRecord[], visit: MergedThing): readonly Conflict[] {
  const bySubject = new Map<string, Correction[]>();
  for (const correction of correctionsOf(visit)) {
    bySubject.set(correction.subject, [...(bySubject.get(correction.subject) ?? []), correction]);
  }
  const contested = [...bySubject].filter(([, all]) => new Set(all.map((c) => canonicalJson(c.change))).size > 1);
  if (contested.length === 0) return [];
  const hadSeen = ancestry(records);
  return contested.flatMap(([, all]) => {
    const open = all.filter(({ head }) => !all.some((other) => hadSeen(other.head.record, head.record)));
    if (new Set(open.map((c) => canonicalJson(c.change))).size < 2) return [];
    return [{ path: '/corrections', sides: open.map(({ head, change }) => ({ ...head, value: change })).reverse() }];
  });
}

function correctionsOf(visit: MergedThing): readonly Correction[] {
  const whole = visit.document;
  const list = isJsonObject(whole) ? whole.corrections : undefined;
  if (!Array.isArray(list)) return [];
  const written = list.filter((entry: Json) => isJsonObject(entry) && isJsonObject(entry.change));
  // What was taken back contradicts nobody.
  const standing = new Set(standingChanges(written as unknown as readonly Written[]).standing.map(({ id }) => id));
  return written.flatMap((entry: Json) => {
    if (!isJsonObject(entry) || typeof entry.id !== 'string' || !isJsonObject(entry.change)) return [];
    if (!standing.has(entry.id)) return [];
    // What it changes is written once, when it is made; its place in the list may be written again by others.
    const head = visit.heads.get(`${childPath('/corrections', { element: entry.id })}/change/kind`)?.[0];
    const subject = subjectOf(entry.countId ?? null, entry.change);
    return head === undefined || subject === null ? [] : [{ subject, change: entry.change, head }];
  });
}

/** What a correction is about; null where two cannot contradict each other. */
function subjectOf(countId: Json, change: { readonly [key: string]: Json }): string | null {
  if (change.kind === 'add plant' || change.kind === 'leave out' || change.kind === 'check photo') return null;
  return canonicalJson([countId, change.plantId ?? null, change.row ?? null, change.readingM ?? null]);
}
