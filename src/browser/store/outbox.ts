import type { ChangeRecord } from '../../core/sync/changeRecord.ts';
import type { HeldPhoto, Store } from './storeTypes.ts';

/** What has not reached the server yet. */
export interface Waiting {
  readonly records: number;
  readonly photos: number;
  readonly photoBytes: number;
  /** What the server would not take, in its words; counted among the waiting ones. */
  readonly refused: readonly string[];
  /** How many of those are files taken for photos. */
  readonly refusedPhotos: number;
}

export const NOTHING_WAITS: Waiting = { records: 0, photos: 0, photoBytes: 0, refused: [], refusedPhotos: 0 };

export async function countWaiting(store: Store): Promise<Waiting> {
  const tx = store.transaction(['records', 'drafts', 'photos']);
  const unsent = await tx.objectStore('records').index('unsent').getAll();
  const drafts = await tx.objectStore('drafts').count();
  const photos = await tx.objectStore('photos').index('waiting').getAll();
  await tx.done;
  const refusedPhotos = photos.flatMap((photo) => photo.trouble ?? []);
  return {
    records: unsent.length + drafts,
    photos: photos.length,
    photoBytes: photos.reduce((sum, photo) => sum + photo.bytes, 0),
    refused: [...unsent.flatMap((r) => r.refused ?? []), ...refusedPhotos],
    refusedPhotos: refusedPhotos.length,
  };
}

/** Records to send, oldest first. */
export async function unsentRecords(store: Store, limit: number): Promise<readonly ChangeRecord[]> {
  const held = await store.getAllFromIndex('records', 'unsent');
  return held
    .filter((one) => one.refused === undefined)
    .map((one) => one.record)
    .sort((a, b) => a.sequence - b.sequence)
    .slice(0, limit);
}

/** Notes what the server said of records: those it has, and those it refused with its reason. */
export async function markRecords(
  store: Store,
  arrived: readonly string[],
  refused: ReadonlyMap<string, string>,
): Promise<void> {
  const tx = store.transaction('records', 'readwrite');
  for (const id of arrived) {
    const held = await tx.store.get(id);
    if (held !== undefined) await tx.store.put({ id, thingKey: held.thingKey, record: held.record });
  }
  for (const [id, reason] of refused) {
    const held = await tx.store.get(id);
    if (held !== undefined) await tx.store.put({ ...held, refused: reason });
  }
  await tx.done;
}

export async function waitingPhotos(store: Store): Promise<readonly HeldPhoto[]> {
  const held = await store.getAllFromIndex('photos', 'waiting');
  return held.sort((a, b) => (a.addedAt < b.addedAt ? -1 : 1));
}

export async function markPhoto(store: Store, sha256: string, trouble: string | null): Promise<void> {
  const tx = store.transaction('photos', 'readwrite');
  const held = await tx.store.get(sha256);
  if (held !== undefined) {
    const { waiting: _waiting, trouble: _trouble, ...rest } = held;
    await tx.store.put(trouble === null ? rest : { ...rest, waiting: 1, trouble });
  }
  await tx.done;
}

/** Another archive answers at this address (restored, or a new one): offer it everything again. */
export async function sendAllAgain(store: Store): Promise<void> {
  const tx = store.transaction(['records', 'photos', 'settings'], 'readwrite');
  for (const held of await tx.objectStore('records').getAll()) {
    await tx.objectStore('records').put({ ...held, unsent: 1 });
  }
  for (const photo of await tx.objectStore('photos').getAll()) {
    await tx.objectStore('photos').put({ ...photo, waiting: 1 });
  }
  await tx.objectStore('settings').delete('cursor');
  await tx.done;
}
