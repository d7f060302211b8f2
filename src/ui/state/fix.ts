import { signal } from '@preact/signals';
import { useEffect, useState } from 'preact/hooks';
import { type Fix, type Whereabouts, watchPosition } from '../../browser/sensors/watchPosition.ts';

/** Where the phone is, while a walk is on. */
export const whereabouts = signal<Whereabouts>({ fix: null, trouble: null });

/** A fix older than this says where somebody was. */
const FRESH_MS = 60_000;
const LOOK_MS = 10_000;

/** Where the phone is now; null: not known, or only where it was a while ago. */
export function fixNow(nowMs: number, { fix, trouble }: Whereabouts = whereabouts.value): Fix | null {
  return fix === null || trouble !== null || nowMs - fix.atMs > FRESH_MS ? null : fix;
}

/** Follows the position while a page is open. */
export function useWhereabouts(): void {
  useEffect(
    () =>
      watchPosition(whereabouts.value.fix, (now) => {
        whereabouts.value = now;
      }),
    [],
  );
}

/** Where the phone is now, asked again every few seconds: a position grows old without a word. */
export function useFixNow(): Fix | null {
  const [, look] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => look((times) => times + 1), LOOK_MS);
    return () => clearInterval(timer);
  }, []);
  return fixNow(Date.now());
}

/** Why there is no position now, and the time of the last one, for a person to read. */
export function noPositionText({ fix, trouble }: Whereabouts): string {
  if (trouble === 'refused') return 'Position not allowed for this page';
  if (trouble === 'no sensor') return 'No position on this device';
  if (fix === null) return 'No position yet';
  return `No position now, last at ${new Date(fix.atMs).toTimeString().slice(0, 5)}`;
}
