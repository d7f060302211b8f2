/** A thread that is made ready before it is needed. */
export interface NextThread<T> {
  /** Starts one when nothing was asked for a moment: a photo that is there already is not disturbed. */
  readonly prepare: () => void;
  /** Starts none for now; one that has begun goes on. */
  readonly putOff: () => void;
  /** The one in waiting, else a new one; whoever takes it ends it. Rejects with the reason where it could not start. */
  readonly take: () => Promise<T>;
}

/** Long enough for a photo to arrive that was there before its thread. */
const QUIET_MS = 500;

/** Keeps at most one started thread in waiting. One that failed is forgotten: the next is tried anew. */
export function nextThread<T>(start: () => Promise<T>): NextThread<T> {
  let waiting: Promise<T> | null = null;
  let quiet: ReturnType<typeof setTimeout> | undefined;
  const putOff = () => clearTimeout(quiet);
  const begin = () => {
    const begun = start();
    waiting = begun;
    begun.catch(() => {
      if (waiting === begun) waiting = null;
    });
  };
  return {
    prepare: () => {
      putOff();
      if (waiting === null) quiet = setTimeout(begin, QUIET_MS);
    },
    putOff,
    take: () => {
      putOff();
      const taken = waiting ?? start();
      waiting = null;
      return taken;
    },
  };
}
