/** What a request needs: the browser's or Node's `fetch`, or the app's own `request` in tests. */
export type Fetch = (address: string, init: RequestInit) => Response | Promise<Response>;

export interface UploadOptions {
  /** Where the server is, without a slash at the end; empty from its own pages. */
  readonly address: string;
  readonly fetch: Fetch;
  /** Bytes in one request; at most 8 MiB. */
  readonly partBytes?: number;
  readonly signal?: AbortSignal;
  readonly onProgress?: (sentBytes: number, totalBytes: number) => void;
}

export type Uploaded =
  | { readonly ok: true; readonly sentBytes: number }
  /** `again`: a later try can succeed (no network, server busy or full); otherwise a person must look. */
  | { readonly ok: false; readonly again: boolean; readonly code: string; readonly message: string };

const PART_BYTES = 512 * 1024;

/**
 * Sends one photo, going on from whatever the server has already. Safe to call again after any failure and at any time:
 * a photo that is there is not sent, and never stored twice.
 */
export async function uploadPhoto(photo: Blob, sha256: string, options: UploadOptions): Promise<Uploaded> {
  const { address, partBytes = PART_BYTES, onProgress } = options;
  const place = `${address}/api/photos/${sha256}/upload`;
  const signal = options.signal === undefined ? {} : { signal: options.signal };
  let sentBytes = 0;
  try {
    let state = await readState(await options.fetch(place, { method: 'GET', ...signal }));
    while ('state' in state && state.state !== 'stored') {
      const part = photo.slice(state.offset, state.offset + partBytes);
      const answer = await options.fetch(place, {
        method: 'PATCH',
        headers: {
          'Content-Type': 'application/offset+octet-stream',
          'Upload-Offset': String(state.offset),
          'Upload-Length': String(photo.size),
        },
        body: part,
        ...signal,
      });
      sentBytes += part.size;
      const next = await readState(answer);
      // Somebody else's tab may have sent the same bytes in between: go on from where the server is.
      const moved = 'code' in next && next.code === 'wrong-offset' && typeof next.offset === 'number';
      state = moved ? { state: 'partial', offset: next.offset as number } : next;
      if ('state' in state) onProgress?.(state.offset, photo.size);
    }
    if ('state' in state) return { ok: true, sentBytes };
    return { ok: false, again: state.again, code: state.code, message: state.message };
  } catch (error) {
    return { ok: false, again: true, code: 'no-answer', message: (error as Error).message };
  }
}

type State =
  | { readonly state: 'stored' | 'partial' | 'absent'; readonly offset: number }
  | { readonly code: string; readonly message: string; readonly again: boolean; readonly offset?: unknown };

async function readState(answer: Response): Promise<State> {
  if (answer.ok) return (await answer.json()) as State;
  const body = (await answer.json().catch(() => null)) as {
    error?: { code: string; message: string; facts?: { offset?: unknown } };
  } | null;
  const code = body?.error?.code ?? `status-${answer.status}`;
  const message = body?.error?.message ?? `The server answered ${answer.status}.`;
  // Wrong bytes were thrown away by the server: sending the photo once more can help.
  const again = answer.status >= 500 || answer.status === 429 || answer.status === 401 || code === 'wrong-hash';
  return { code, message, again, offset: body?.error?.facts?.offset };
}
