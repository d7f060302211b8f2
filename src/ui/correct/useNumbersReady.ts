import { useEffect } from 'preact/hooks';
import { makeNumber } from './drawMarks.ts';
import { drawnRatio } from './paintView.ts';

/** Numbers made between two touches. */
const AT_ONCE = 5;
const PAUSE_MS = 20;

/** Makes the labels of all marks, a few at a time, once the view stands: later answers number marks anew. */
export function useNumbersReady(marks: number): void {
  useEffect(() => {
    let next = 1;
    const go = () => {
      for (const last = next + AT_ONCE; next < last && next <= marks; next++) makeNumber(next, drawnRatio());
      if (next <= marks) timer = setTimeout(go, PAUSE_MS);
    };
    let timer = setTimeout(go, PAUSE_MS);
    return () => clearTimeout(timer);
  }, [marks]);
}
