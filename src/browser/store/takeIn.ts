import type { ChangeRecord } from '../../core/sync/changeRecord.ts';
import { commitDraft, EDIT_STORES } from './commitDrafts.ts';
import { holdThing } from './holdThing.ts';
import { type Actor, recordsOf } from './recordChanges.ts';
import type { Store } from './storeTypes.ts';
import { thingKey } from './storeTypes.ts';

/** Adds records from the server, each once, and remembers how far they go, all or nothing. */
export async function takeIn(
  store: Store,
  actor: Actor,
  records: readonly ChangeRecord[],
  cursor: string,
): Promise<void> {
  const tx = store.transaction(EDIT_STORES, 'readwrite');
  const touched = new Map<string, ChangeRecord>();
  for (const record of records) {
    if ((await tx.objectStore('records').getKey(record.id)) !== undefined) continue;
    const key = thingKey(record.kind, record.thing);
    if (!touched.has(key)) {
      const draft = await tx.objectStore('drafts').get(key);
      if (draft !== undefined) await commitDraft(tx, actor, draft);
      touched.set(key, record);
    }
    await tx.objectStore('records').put({ id: record.id, thingKey: key, record });
  }
  for (const [key, { kind, thing }] of touched) {
    if (kind !== 'detections') await holdThing(tx, kind, thing, await recordsOf(tx, key));
  }
  await tx.objectStore('settings').put(cursor, 'cursor');
  await tx.done;
}
