import { cannot } from '../core/faults/outcome.ts';
import type { LearningReply, LearningRequest } from '../worker/learningApi.ts';

const startWorker = () => new Worker(new URL('./learning.worker.ts', import.meta.url), { type: 'module' });

/** Learns off the page's thread, in one that ends when it is done. Never rejects: trouble is an outcome in plain words. */
export function learnFromPhotos(request: LearningRequest, start: () => Worker = startWorker): Promise<LearningReply> {
  return new Promise((resolve) => {
    const worker = start();
    const done = (reply: LearningReply) => {
      worker.terminate();
      resolve(reply);
    };
    worker.onmessage = ({ data }: MessageEvent<LearningReply>) => done(data);
    worker.onerror = (event) =>
      done(
        cannot(
          'learning-stopped',
          `learning stopped (${event.message || 'out of memory'})`,
          'enough free memory',
          'Close other pages and try again.',
        ),
      );
    worker.postMessage(request);
  });
}
