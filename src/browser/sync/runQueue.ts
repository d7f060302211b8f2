import type { ChangeRecord } from '../../core/sync/changeRecord.ts';
import { commitDrafts } from '../store/commitDrafts.ts';
import { markPhoto, markRecords, sendAllAgain, unsentRecords, waitingPhotos } from '../store/outbox.ts';
import type { Actor } from '../store/recordChanges.ts';
import type { Store } from '../store/storeTypes.ts';
import { takeIn } from '../store/takeIn.ts';

export interface Trouble {
  readonly ok: false;
  /** A later try can succeed. */
  readonly again: boolean;
  readonly code: string;
  readonly message: string;
}

export interface SyncAnswer {
  readonly ok: true;
  readonly arrived: readonly string[];
  readonly refused: ReadonlyMap<string, string>;
  readonly records: readonly ChangeRecord[];
  readonly cursor: string;
  readonly more: boolean;
}

/** The server, as the queue sees it. */
export interface Server {
  readonly sync: (records: readonly ChangeRecord[], after: string | null) => Promise<SyncAnswer | Trouble>;
  readonly upload: (
    photo: Blob,
    sha256: string,
    partBytes: number,
    onProgress: (sentBytes: number) => void,
  ) => Promise<{ readonly ok: true } | Trouble>;
}

export interface QueueRun {
  readonly store: Store;
  readonly actor: Actor;
  readonly server: Server;
  /** Drafts touched later than this are still being worked on. */
  readonly draftsUntil: string;
  readonly partBytes: number;
  readonly onProgress: (sha256: string | null, sentBytes: number) => void;
}

const RECORDS_AT_ONCE = 100;

/**
 * Sends everything that waits and takes in what others did; stops at the first trouble that a later try may cure.
 * Safe to repeat at any time: records are known by their id, photos by their hash, half a photo by the server's offset.
 */
export async function runQueue(run: QueueRun): Promise<{ readonly ok: true } | Trouble> {
  const { store, actor, server } = run;
  await commitDrafts(store, actor, run.draftsUntil);
  for (;;) {
    const records = await unsentRecords(store, RECORDS_AT_ONCE);
    const after = ((await store.get('settings', 'cursor')) as string | undefined) ?? null;
    const answer = await server.sync(records, after);
    if (!answer.ok) {
      if (answer.code !== 'foreign-cursor') return answer;
      await sendAllAgain(store);
      continue;
    }
    await markRecords(store, answer.arrived, answer.refused);
    await takeIn(store, actor, answer.records, answer.cursor);
    if (!answer.more && records.length < RECORDS_AT_ONCE) break;
  }
  for (const photo of await waitingPhotos(store)) {
    if (photo.trouble !== undefined) continue;
    const sent = await server.upload(photo.blob, photo.sha256, run.partBytes, (sentBytes) =>
      run.onProgress(photo.sha256, sentBytes),
    );
    run.onProgress(null, 0);
    if (sent.ok) await markPhoto(store, photo.sha256, null);
    else if (sent.again) return sent;
    else await markPhoto(store, photo.sha256, sent.message);
  }
  return { ok: true };
}
