import type { HeldPhoto, Store } from './storeTypes.ts';

/**
 * Keeps a photo byte for byte under its SHA-256. A photo that is held already is not written again.
 *
 * @param onRead told when the bytes are in memory and on their way to the disk: what only reads them need not wait.
 */
export async function keepPhoto(
  store: Store,
  file: File | Blob,
  name: string,
  at: string,
  onRead: (photo: HeldPhoto) => void = () => undefined,
): Promise<HeldPhoto> {
  // The bytes are read first: a file from a gallery may be gone later.
  const bytes = await file.arrayBuffer();
  const sha256 = await sha256Of(bytes);
  const photo: HeldPhoto = {
    sha256,
    file: name,
    blob: new Blob([bytes], { type: file.type || 'image/jpeg' }),
    bytes: bytes.byteLength,
    addedAt: at,
    waiting: 1,
  };
  const tx = store.transaction('photos', 'readwrite', { durability: 'strict' });
  const looking = tx.store.get(sha256);
  onRead(photo);
  const held = await looking;
  if (held === undefined) await tx.store.put(photo);
  await tx.done;
  return held ?? photo;
}

export async function sha256Of(bytes: ArrayBuffer): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', bytes);
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

/**
 * Removes from this device files that the server does not take: no photos. They are nowhere else.
 *
 * @param sha256 only this one; null: all.
 * @returns how many went.
 */
export async function dropRefusedPhotos(store: Store, sha256: string | null): Promise<number> {
  const tx = store.transaction('photos', 'readwrite');
  const refused = (await tx.store.getAll()).filter((photo) => photo.trouble !== undefined);
  const wanted = refused.filter((photo) => sha256 === null || photo.sha256 === sha256);
  for (const photo of wanted) await tx.store.delete(photo.sha256);
  await tx.done;
  return wanted.length;
}

/** Removes from this device the photos that the server has; answers how many bytes that frees. */
export async function dropSentPhotos(store: Store): Promise<number> {
  const tx = store.transaction('photos', 'readwrite');
  let bytes = 0;
  for (const photo of await tx.store.getAll()) {
    if (photo.waiting === 1) continue;
    bytes += photo.bytes;
    await tx.store.delete(photo.sha256);
  }
  await tx.done;
  return bytes;
}
