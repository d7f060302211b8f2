import type { ChangeRecord, PathChange, ThingKind } from '../../core/sync/changeRecord.ts';
import { RECORD_SCHEMA } from '../../core/sync/changeRecord.ts';
import { type MergedThing, mergeRecords } from '../../core/sync/mergeRecords.ts';
import type { EditStores, Writing } from './storeTypes.ts';
import { thingKey } from './storeTypes.ts';

/** Who acts here, and when; passed in so that tests can choose. */
export interface Actor {
  readonly author: string;
  readonly now: () => string;
  readonly newId: () => string;
}

export async function recordsOf(tx: Writing<EditStores>, key: string): Promise<readonly ChangeRecord[]> {
  return (await tx.objectStore('records').index('thing').getAll(key)).map((held) => held.record);
}

/** Adds one record to those of a thing, within a running transaction; null when there is nothing to record. */
export async function recordChanges(
  tx: Writing<EditStores>,
  actor: Actor,
  kind: ThingKind,
  thing: string,
  changesFrom: (now: MergedThing) => readonly PathChange[],
): Promise<{ readonly record: ChangeRecord; readonly all: readonly ChangeRecord[] } | null> {
  const key = thingKey(kind, thing);
  const before = await recordsOf(tx, key);
  const now = mergeRecords(before);
  const changes = changesFrom(now);
  if (changes.length === 0) return null;
  const settings = tx.objectStore('settings');
  const device = ((await settings.get('device')) as string | undefined) ?? `device-${actor.newId()}`;
  const sequence = (((await settings.get('sequence')) as number | undefined) ?? 0) + 1;
  await settings.put(device, 'device');
  await settings.put(sequence, 'sequence');
  const record: ChangeRecord = {
    schema: RECORD_SCHEMA,
    id: kind === 'detections' ? thing : actor.newId(),
    device,
    sequence,
    author: actor.author,
    at: actor.now(),
    kind,
    thing,
    parents: now.frontier,
    changes,
  };
  await tx.objectStore('records').put({ id: record.id, thingKey: key, record, unsent: 1 });
  return { record, all: [...before, record] };
}
