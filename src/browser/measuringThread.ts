import type { CountResult } from '../core/count/countResult.ts';
import type { Outcome } from '../core/faults/outcome.ts';
import type { ByColour, MeasureOrder, MeasureReply, MeasureRequest } from '../worker/measureApi.ts';

export interface MeasuringThread {
  /** Measures one photo, the only one; the thread ends with the answer. Rejects where it dies before. */
  readonly measure: (request: MeasureRequest, onQuick: (quick: CountResult) => void) => Promise<Outcome<ByColour>>;
  /** Measures drawings, so that a photo is measured sooner afterwards. Rejects where the thread dies. */
  readonly practise: () => Promise<void>;
  readonly close: () => void;
}

/** Starts a thread for one photo; it may be started before the photo is there. */
export function measuringThread(): MeasuringThread {
  const thread = new Worker(new URL('./measure.worker.ts', import.meta.url), { type: 'module' });
  const close = () => thread.terminate();
  /** What `answerOf` makes of the thread's replies, once it is something. */
  const ask = <T>(order: MeasureOrder, answerOf: (reply: MeasureReply) => T | null) =>
    new Promise<T>((resolve, reject) => {
      thread.onmessage = ({ data }: MessageEvent<MeasureReply>) => {
        const answer = answerOf(data);
        if (answer !== null) resolve(answer);
      };
      thread.onerror = ({ message }) => reject(new Error(`measuring stopped (${message || 'out of memory'})`));
      thread.postMessage(order);
    });
  const measure: MeasuringThread['measure'] = (request, onQuick) =>
    ask(request, (reply) => {
      if ('quick' in reply) onQuick(reply.quick);
      return 'done' in reply ? reply.done : null;
    }).finally(close);
  const practise = async () => {
    await ask({ practise: true }, (reply) => ('practised' in reply ? reply : null));
  };
  return { measure, practise, close };
}
