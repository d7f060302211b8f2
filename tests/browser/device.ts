import { IDBFactory } from 'fake-indexeddb';
import { draftEdit } from '../../src/browser/store/draftEdit.ts';
import { openStore } from '../../src/browser/store/openStore.ts';
import { countWaiting } from '../../src/browser/store/outbox.ts';
import type { Store } from '../../src/browser/store/storeTypes.ts';
import { thingKey } from '../../src/browser/store/storeTypes.ts';
import { runQueue, type Server, type Trouble } from '../../src/browser/sync/runQueue.ts';
import type { ChangeRecord } from '../../src/core/sync/changeRecord.ts';
import type { Json } from '../../src/core/sync/json.ts';
import { uploadPhoto } from '../../src/server/client/uploadPhoto.ts';
import { type TestServer, testId } from '../server/support.ts';

export type Lost = 'question' | 'answer' | null;

/** The server over a line that may lose a question or its answer. */
export function lossyServer({ app }: TestServer, loses: () => Lost): Server {
  const over = async (path: string, init: RequestInit): Promise<Response> => {
    const lost = loses();
    if (lost === 'question') throw new TypeError('Failed to fetch');
    const answer = await app.request(path, init);
    if (lost === 'answer') throw new TypeError('Failed to fetch');
    return answer;
  };
  return {
    async sync(records, after) {
      try {
        const headers = { 'Content-Type': 'application/json' };
        const body = JSON.stringify({ records, after, scope: { detections: false } });
        const answer = await over('/api/sync', { method: 'POST', headers, body });
        const told = (await answer.json()) as {
          accepted: string[];
          known: string[];
          refused: { id: string; message: string }[];
          records: ChangeRecord[];
          cursor: string;
          more: boolean;
          error?: { code: string; message: string };
        };
        if (told.error !== undefined) return { ok: false, again: false, ...told.error };
        const refused = new Map(told.refused.map((one) => [one.id, one.message]));
        const { records: others, cursor, more } = told;
        return { ok: true, arrived: [...told.accepted, ...told.known], refused, records: others, cursor, more };
      } catch (error) {
        return { ok: false, again: true, code: 'no-answer', message: String(error) };
      }
    },
    upload: (photo, sha256, partBytes, onProgress) =>
      uploadPhoto(photo, sha256, { address: '', fetch: over, partBytes, onProgress: (sent) => onProgress(sent) }),
  };
}

/** A phone with its own store and clock. */
export async function testPhone(author: string) {
  const factory = new IDBFactory();
  const open = (): Promise<Store> => {
    globalThis.indexedDB = factory;
    return openStore();
  };
  let store = await open();
  let clock = 0;
  let ids = 0;
  const now = () => new Date(Date.UTC(2026, 5, 18, 9) + clock++ * 1000).toISOString();
  const actor = { author, now, newId: () => testId(`${author} ${ids++}`) };
  return {
    actor,
    store: () => store,
    /** Switched off and on: only what is on the disk stays. */
    restart: async () => {
      store.close();
      store = await open();
    },
    edit: (thing: string, change: (document: Json) => Json) => draftEdit(store, 'visit', thing, now(), change),
    seen: async (thing: string): Promise<Json> => {
      const key = thingKey('visit', thing);
      const draft = await store.get('drafts', key);
      return draft?.document ?? (await store.get('things', key))?.document ?? {};
    },
    held: (thing: string) => store.get('things', thingKey('visit', thing)),
    send: (server: Server): Promise<{ readonly ok: true } | Trouble> =>
      runQueue({ store, actor, server, draftsUntil: '9999', partBytes: 1000, onProgress: () => undefined }),
    waiting: () => countWaiting(store),
  };
}
