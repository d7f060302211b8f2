import type { ChangeRecord } from '../../core/sync/changeRecord.ts';
import { editThing, NOTHING_YET } from '../../core/sync/editThing.ts';
import type { Json } from '../../core/sync/json.ts';
import { DEMO_VISITS } from '../../core/visit/demo/demoVisits.ts';
import { sha256Of } from '../files/sha256Of.ts';

/**
 * The demonstration farm as records, the same ones each time: loading them twice adds nothing.
 */
export function demoRecords(): readonly ChangeRecord[] {
  return DEMO_VISITS.map((visit, i) => ({
    schema: 'rowledger/record@1',
    id: fixedId(`demo visit ${visit.id}`),
    device: 'demo',
    sequence: i + 1,
    author: visit.people.at(-1)?.name ?? 'Demo',
    at: `${visit.visitedOn}T12:00:00.000Z`,
    kind: 'visit',
    thing: visit.id,
    parents: [],
    changes: editThing(NOTHING_YET, visit as unknown as Json),
  }));
}

/** A UUID made from a name (RFC 9562, 2024, version 8). */
export function fixedId(name: string): string {
  const hex = sha256Of(name);
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-8${hex.slice(17, 20)}-${hex.slice(20, 32)}`;
}
