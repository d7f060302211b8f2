import type { Look } from './camera.ts';

/** Holds where the views look; they draw when it changes, without going through the page's own rendering. */
export interface LookStore {
  readonly get: () => Look;
  readonly set: (look: Look) => void;
  /** Glides there, or jumps for people who asked for less motion. */
  readonly glide: (look: Look) => void;
  readonly subscribe: (listener: () => void) => () => void;
}

const GLIDE_MS = 160;

export function createLookStore(first: Look): LookStore {
  let look = first;
  let gliding = 0;
  const listeners = new Set<() => void>();
  const put = (next: Look) => {
    look = next;
    for (const listener of listeners) listener();
  };
  return {
    get: () => look,
    set: (next) => {
      cancelAnimationFrame(gliding);
      put(next);
    },
    glide: (to) => {
      cancelAnimationFrame(gliding);
      if (matchMedia('(prefers-reduced-motion: reduce)').matches) return put(to);
      const from = look;
      const start = performance.now();
      const frame = (now: number) => {
        const share = Math.min(1, Math.max(0, (now - start) / GLIDE_MS));
        const ease = 1 - (1 - share) ** 3;
        const mix = (a: number, b: number) => a + ease * (b - a);
        put({
          xPx: mix(from.xPx, to.xPx),
          yPx: mix(from.yPx, to.yPx),
          screenPxPerM: mix(from.screenPxPerM, to.screenPxPerM),
        });
        if (share < 1) gliding = requestAnimationFrame(frame);
      };
      gliding = requestAnimationFrame(frame);
    },
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
