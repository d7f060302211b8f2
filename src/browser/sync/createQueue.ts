import { countWaiting, NOTHING_WAITS, type Waiting } from '../store/outbox.ts';
import type { Actor } from '../store/recordChanges.ts';
import type { Store } from '../store/storeTypes.ts';
import { runQueue, type Server, type Trouble } from './runQueue.ts';

export interface QueueState {
  readonly waiting: Waiting;
  readonly running: boolean;
  /** Bytes of the photo on its way. */
  readonly sentBytes: number;
  readonly trouble: Trouble | null;
  /** When everything was last with the server, ISO 8601. */
  readonly doneAt: string | null;
}

export interface Queue {
  /** Something new waits: send it soon. */
  readonly soon: () => void;
  /** Send now, drafts included. */
  readonly now: () => Promise<void>;
  readonly stop: () => void;
}

const PAUSE_MS = 1500;
const FIRST_RETRY_MS = 1000;
const LAST_RETRY_MS = 60_000;
/** With everything sent, others' work is asked for this often while the page is in view. */
const LOOK_MS = 60_000;
const MOST_PART = 512 * 1024;
/** On a line that keeps breaking, smaller parts get through. */
const LEAST_PART = 32 * 1024;

/** Runs the queue when there is reason to: new work, network back, page in view, a retry due. One tab at a time. */
export function createQueue(
  store: Store,
  actor: () => Actor,
  server: Server,
  onState: (state: QueueState) => void,
  onChanged: () => void,
): Queue {
  let state: QueueState = { waiting: NOTHING_WAITS, running: false, sentBytes: 0, trouble: null, doneAt: null };
  let timer: ReturnType<typeof setTimeout> | undefined;
  let retryMs = FIRST_RETRY_MS;
  let partBytes = MOST_PART;
  let stopped = false;
  const tell = (next: Partial<QueueState>) => {
    state = { ...state, ...next };
    onState(state);
  };
  const after = (ms: number) => {
    clearTimeout(timer);
    if (!stopped) timer = setTimeout(() => void run(Date.now() - PAUSE_MS), ms);
  };
  const run = async (draftsUntilMs: number): Promise<void> => {
    clearTimeout(timer);
    await navigator.locks.request('rowledger-queue', { ifAvailable: true }, async (lock) => {
      if (lock === null || stopped) return after(FIRST_RETRY_MS);
      tell({ running: true });
      const draftsUntil = new Date(draftsUntilMs).toISOString();
      const onProgress = (_sha256: string | null, sentBytes: number) => {
        if (sentBytes > 0) retryMs = FIRST_RETRY_MS;
        tell({ sentBytes });
      };
      const end = await runQueue({ store, actor: actor(), server, draftsUntil, partBytes, onProgress }).catch(
        (error: unknown): Trouble => ({ ok: false, again: true, code: 'here', message: String(error) }),
      );
      const waiting = await countWaiting(store);
      const done = end.ok && waiting.records === 0 && waiting.photos === 0;
      // What the server does not take is not offered again by itself: a phone would ask for it all day.
      const open = waiting.records + waiting.photos - waiting.refused.length;
      tell({
        running: false,
        sentBytes: 0,
        waiting,
        trouble: end.ok ? null : end,
        doneAt: done ? new Date().toISOString() : state.doneAt,
      });
      onChanged();
      if (end.ok) {
        retryMs = FIRST_RETRY_MS;
        partBytes = MOST_PART;
        after(open <= 0 ? LOOK_MS : PAUSE_MS);
      } else {
        partBytes = Math.max(LEAST_PART, partBytes / 2);
        after(retryMs);
        retryMs = Math.min(LAST_RETRY_MS, retryMs * 2);
      }
    });
  };
  const soon = () => {
    void countWaiting(store).then((waiting) => tell({ waiting }));
    if (!state.running) after(PAUSE_MS + 200);
  };
  const online = () => {
    retryMs = FIRST_RETRY_MS;
    void run(Date.now());
  };
  const seen = () => {
    // Leaving the page is the last sure moment: what is being entered becomes a record.
    if (document.visibilityState === 'visible') after(200);
    else void run(Date.now());
  };
  addEventListener('online', online);
  document.addEventListener('visibilitychange', seen);
  after(0);
  return {
    soon,
    now: () => run(Date.now()),
    stop: () => {
      stopped = true;
      clearTimeout(timer);
      removeEventListener('online', online);
      document.removeEventListener('visibilitychange', seen);
    },
  };
}
