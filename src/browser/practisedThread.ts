import type { MeasuringThread } from './measuringThread.ts';

/** One thread in waiting for the next photo. */
export interface PractisedThread {
  /** Starts one where none waits. */
  readonly prepare: () => void;
  /** Starts one, and when nothing came for a moment a second, which practises and then takes the first one's place. */
  readonly practise: () => void;
  /** The one in waiting, else a new one, at once; whoever takes it ends it. One that still practises is ended. */
  readonly take: () => MeasuringThread;
}

/** Long enough for a photo to arrive that was there before its thread. */
const QUIET_MS = 500;

/** Keeps a thread ready that never keeps a photo waiting: only one that is done with practising is handed out. */
export function practisedThread(start: () => MeasuringThread): PractisedThread {
  let waiting: MeasuringThread | null = null;
  let practising: MeasuringThread | null = null;
  let quiet: ReturnType<typeof setTimeout> | undefined;
  const prepare = () => {
    waiting ??= start();
  };
  const endPractice = () => {
    clearTimeout(quiet);
    practising?.close();
    practising = null;
  };
  const begin = async () => {
    const thread = start();
    practising = thread;
    const isDone = await thread.practise().then(
      () => true,
      () => false,
    );
    if (practising !== thread) return;
    practising = null;
    if (!isDone) return thread.close();
    waiting?.close();
    waiting = thread;
  };
  return {
    prepare,
    practise: () => {
      prepare();
      endPractice();
      quiet = setTimeout(begin, QUIET_MS);
    },
    take: () => {
      endPractice();
      const taken = waiting ?? start();
      waiting = null;
      return taken;
    },
  };
}
