/** Milliseconds of one steady clock that all threads of the page share. */
export const nowMs = (): number => performance.timeOrigin + performance.now();
