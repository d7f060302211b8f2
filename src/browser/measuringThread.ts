import type { CountResult } from '../core/count/countResult.ts';
import type { Outcome } from '../core/faults/outcome.ts';
import type { ByColour, MeasureReply, MeasureRequest } from '../worker/measureApi.ts';

export interface MeasuringThread {
  /** Measures one photo, the only one; the thread ends with the answer. Rejects where it dies before. */
  readonly measure: (request: MeasureRequest, onQuick: (quick: CountResult) => void) => Promise<Outcome<ByColour>>;
}

/** Starts a thread for one photo; it may be started before the photo is there. */
export function measuringThread(): MeasuringThread {
  const thread = new Worker(new URL('./measure.worker.ts', import.meta.url), { type: 'module' });
  const measure: MeasuringThread['measure'] = (request, onQuick) =>
    new Promise<Outcome<ByColour>>((resolve, reject) => {
      thread.onmessage = ({ data }: MessageEvent<MeasureReply>) =>
        'quick' in data ? onQuick(data.quick) : resolve(data.done);
      thread.onerror = ({ message }) => reject(new Error(`measuring stopped (${message || 'out of memory'})`));
      thread.postMessage(request);
    }).finally(() => thread.terminate());
  return { measure };
}
