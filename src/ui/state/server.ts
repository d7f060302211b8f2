import type { Server, SyncAnswer, Trouble } from '../../browser/sync/runQueue.ts';
import type { ChangeRecord } from '../../core/sync/changeRecord.ts';
import { createClient } from '../../server/client/createClient.ts';
import { uploadPhoto } from '../../server/client/uploadPhoto.ts';

export const client = createClient('/');

/** The server as the queue sees it, through the typed client. */
export const server: Server = {
  async sync(records, after): Promise<SyncAnswer | Trouble> {
    try {
      const answer = await client.api.sync.$post({
        json: { records: [...records], after, limit: 500, scope: { detections: false } },
      });
      if (!answer.ok) return await troubleOf(answer);
      const body = await answer.json();
      return {
        ok: true,
        arrived: [...body.accepted, ...body.known],
        refused: new Map(body.refused.map((one) => [one.id, one.message])),
        records: body.records as unknown as ChangeRecord[],
        cursor: body.cursor,
        more: body.more,
      };
    } catch (error) {
      return { ok: false, again: true, code: 'no-answer', message: (error as Error).message };
    }
  },
  async upload(photo, sha256, partBytes, onProgress) {
    return uploadPhoto(photo, sha256, {
      address: '',
      fetch: (address, init) => fetch(address, init),
      partBytes,
      onProgress: (sentBytes) => onProgress(sentBytes),
    });
  },
};

async function troubleOf(answer: { readonly status: number; readonly text: () => Promise<string> }): Promise<Trouble> {
  const text = await answer.text();
  let told: { error?: { code: string; message: string } } = {};
  try {
    told = JSON.parse(text) as typeof told;
  } catch {
    // A proxy's own page: its status says enough.
  }
  const code = told.error?.code ?? `status-${answer.status}`;
  const again = answer.status >= 500 || answer.status === 401 || answer.status === 429;
  return { ok: false, again, code, message: told.error?.message ?? `The server answered ${answer.status}.` };
}
