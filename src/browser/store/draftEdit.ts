import type { ThingKind } from '../../core/sync/changeRecord.ts';
import type { Json } from '../../core/sync/json.ts';
import { briefOf } from './briefOf.ts';
import type { Store } from './storeTypes.ts';
import { thingKey } from './storeTypes.ts';

/**
 * Changes the document of one thing as the person sees it. On the disk when the promise resolves: nothing waits for a
 * pause or a button. Rejects with the store's own error, the document unchanged, when there is no room.
 */
export async function draftEdit(
  store: Store,
  kind: ThingKind,
  thing: string,
  at: string,
  change: (document: Json) => Json,
): Promise<Json> {
  const key = thingKey(kind, thing);
  const tx = store.transaction(['drafts', 'things', 'rows'], 'readwrite', { durability: 'strict' });
  const held = await tx.objectStore('things').get(key);
  const document = change((await tx.objectStore('drafts').get(key))?.document ?? held?.document ?? {});
  await tx.objectStore('drafts').put({ thingKey: key, kind, thing, document, at });
  const row = { thingKey: key, kind, thing, brief: briefOf(kind, document), updatedAt: at };
  await tx.objectStore('rows').put({ ...row, conflicts: held?.conflicts.length ?? 0 });
  await tx.done;
  return document;
}
