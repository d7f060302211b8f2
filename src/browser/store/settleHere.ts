import type { PathChange, ThingKind } from '../../core/sync/changeRecord.ts';
import type { MergedThing } from '../../core/sync/mergeRecords.ts';
import { commitDraft, EDIT_STORES } from './commitDrafts.ts';
import { holdThing } from './holdThing.ts';
import { type Actor, recordChanges } from './recordChanges.ts';
import type { Store } from './storeTypes.ts';
import { thingKey } from './storeTypes.ts';

/** Records chosen changes to one thing at once: settled conflicts, machine detections. */
export async function settleHere(
  store: Store,
  actor: Actor,
  kind: ThingKind,
  thing: string,
  changesFrom: (now: MergedThing) => readonly PathChange[],
): Promise<void> {
  const tx = store.transaction(EDIT_STORES, 'readwrite', { durability: 'strict' });
  const draft = await tx.objectStore('drafts').get(thingKey(kind, thing));
  if (draft !== undefined) await commitDraft(tx, actor, draft);
  const made = await recordChanges(tx, actor, kind, thing, changesFrom);
  if (made !== null && kind !== 'detections') await holdThing(tx, kind, thing, made.all);
  await tx.done;
}
