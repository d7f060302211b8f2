import { editThing } from '../../core/sync/editThing.ts';
import { holdThing } from './holdThing.ts';
import { type Actor, recordChanges, recordsOf } from './recordChanges.ts';
import type { Draft, EditStores, Store, Writing } from './storeTypes.ts';

export const EDIT_STORES: EditStores = ['records', 'drafts', 'things', 'rows', 'settings'];

/**
 * Makes records of the drafts last touched at or before a moment (all when null). A draft's base is every record of
 * its thing held here: records from elsewhere are only let in after the draft was committed (see `takeIn`), so a record
 * never claims to have seen what its author did not.
 */
export async function commitDrafts(store: Store, actor: Actor, touchedUntil: string | null): Promise<number> {
  const tx = store.transaction(EDIT_STORES, 'readwrite', { durability: 'strict' });
  let made = 0;
  for (const draft of await tx.objectStore('drafts').getAll()) {
    if (touchedUntil !== null && draft.at > touchedUntil) continue;
    if (await commitDraft(tx, actor, draft)) made++;
  }
  await tx.done;
  return made;
}

/** Commits one draft within a running transaction; false when it changed nothing. */
export async function commitDraft(tx: Writing<EditStores>, actor: Actor, draft: Draft): Promise<boolean> {
  const { kind, thing, thingKey: key, document } = draft;
  const made = await recordChanges(tx, actor, kind, thing, (now) => editThing(now, document));
  await tx.objectStore('drafts').delete(key);
  await holdThing(tx, kind, thing, made?.all ?? (await recordsOf(tx, key)));
  return made !== null;
}
