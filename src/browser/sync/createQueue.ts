import { countWaiting, NOTHING_WAITS, type Waiting } from '../store/outbox.ts';
import type { Actor } from '../store/recordChanges.ts';
import type { Store } from '../store/storeTypes.ts';
import { runQueue, type Server, type Trouble } from './runQueue.ts';

export interface QueueState {
  /** What waited when it was counted last. */
  readonly waiting: Waiting;
  /** Nothing was written here since that count: only then may an empty queue be called empty. */
  readonly counted: boolean;
  readonly running: boolean;
  /** Bytes of the photo on its way. */
  readonly sentBytes: number;
  readonly trouble: Trouble | null;
  /** When everything was last with the server, ISO 8601. */
  readonly doneAt: string | null;
}

export const NOT_COUNTED: QueueState = {
  waiting: NOTHING_WAITS,
  counted: false,
  running: false,
  sentBytes: 0,
  trouble: null,
  doneAt: null,
};

export interface Queue {
  /**
   * Something is about to be written here. Told before it is, so that nobody sees it beside a queue called empty; ends
   * with counting what waits anew, and sending it soon.
   *
   * @returns to be called once it is written, or not.
   */
  readonly writing: () => () => void;
  /** Something new waits, written elsewhere: send it soon. */
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
  onChanged: () => void | Promise<void>,
): Queue {
  let state = NOT_COUNTED;
  let writings = 0;
  /** Goes up with every writing that begins or ends: a count that began before says nothing of it. */
  let written = 0;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let retryMs = FIRST_RETRY_MS;
  let partBytes = MOST_PART;
  let stopped = false;
  const tell = (next: Partial<QueueState>) => {
    state = { ...state, ...next };
    onState(state);
  };
  const count = async (): Promise<Pick<QueueState, 'waiting' | 'counted'>> => {
    const before = written;
    const waiting = await countWaiting(store);
    return { waiting, counted: writings === 0 && written === before };
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
      // Before it is said that all is here, all is shown.
      await onChanged();
      const found = await count();
      const { waiting } = found;
      const done = end.ok && waiting.records === 0 && waiting.photos === 0;
      // What the server does not take is not offered again by itself: a phone would ask for it all day.
      const open = waiting.records + waiting.photos - waiting.refused.length;
      tell({
        running: false,
        sentBytes: 0,
        ...found,
        trouble: end.ok ? null : end,
        doneAt: done && found.counted ? new Date().toISOString() : state.doneAt,
      });
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
    void count().then(tell);
    if (!state.running) after(PAUSE_MS + 200);
  };
  const writing = () => {
    writings++;
    written++;
    if (state.counted) tell({ counted: false });
    return () => {
      writings--;
      written++;
      soon();
    };
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
  void count().then(tell);
  after(0);
  return {
    writing,
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
