import type { CountOptions } from '../core/count/countOptions.ts';
import type { PhotoAnalysis } from '../core/count/photoAnalysis.ts';
import type { Outcome } from '../core/faults/outcome.ts';
import type { AnalysisReply, AnalysisRequest } from '../worker/analysisApi.ts';

export interface AnalysisClient {
  /** Measures one photo off the page's thread. Never rejects: trouble is an outcome in plain words. */
  readonly count: (photo: Blob, file: string, options: CountOptions, model: string) => Promise<Outcome<PhotoAnalysis>>;
  readonly close: () => void;
}

/** Starts the measuring thread on first use and pairs its answers with their questions. */
export function createAnalysisClient(start: () => Worker): AnalysisClient {
  let worker: Worker | null = null;
  let next = 1;
  const waiting = new Map<number, (outcome: Outcome<PhotoAnalysis>) => void>();
  const running = (): Worker => {
    if (worker !== null) return worker;
    worker = start();
    worker.onmessage = ({ data }: MessageEvent<AnalysisReply>) => {
      waiting.get(data.id)?.(data.outcome);
      waiting.delete(data.id);
    };
    // A thread that dies (out of memory) must not leave anybody waiting: answer all, start afresh next time.
    worker.onerror = (event) => {
      for (const answer of waiting.values()) {
        answer({
          ok: false,
          code: 'analysis-stopped',
          found: `measuring stopped (${event.message || 'out of memory'})`,
          wanted: 'enough free memory for one photo',
          next: 'Close other pages and try again; the photo is saved.',
        });
      }
      waiting.clear();
      worker?.terminate();
      worker = null;
    };
    return worker;
  };
  return {
    count: (photo, file, options, model) =>
      new Promise((resolve) => {
        const id = next++;
        waiting.set(id, resolve);
        running().postMessage({ id, photo, file, options, model } satisfies AnalysisRequest);
      }),
    close: () => {
      worker?.terminate();
      worker = null;
    },
  };
}
