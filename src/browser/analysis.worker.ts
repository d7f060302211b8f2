import { countPhoto } from '../core/count/countPhoto.ts';
import { cannot, good } from '../core/faults/outcome.ts';
import type { AnalysisReply, AnalysisRequest } from '../worker/analysisApi.ts';
import { chooseDetector } from './chooseDetector.ts';
import { decodePhoto } from './decodePhoto.ts';

/** The thread that measures photos, so that the page never stops answering a thumb. One photo at a time. */
declare const self: DedicatedWorkerGlobalScope;

let queue: Promise<void> = Promise.resolve();

self.onmessage = ({ data }: MessageEvent<AnalysisRequest>) => {
  queue = queue.then(() => answer(data));
};

async function answer({ id, photo, file, options, model }: AnalysisRequest): Promise<void> {
  const send = (outcome: AnalysisReply['outcome'], hand: Transferable[] = []) =>
    self.postMessage({ id, outcome } satisfies AnalysisReply, hand);
  try {
    const decoded = await decodePhoto(photo, file);
    if (!decoded.ok) return send(decoded);
    const detector = await chooseDetector(model);
    const analysis = await countPhoto(decoded.value, options, { ...detector, nowMs: () => performance.now() });
    const pixels = analysis.strip?.raster.data.buffer;
    send(good(analysis), pixels instanceof ArrayBuffer ? [pixels] : []);
  } catch (error) {
    send(
      cannot(
        'analysis-failed',
        `${file}: ${(error as Error).message}`,
        'a photo this tool can measure',
        'Count by hand, and keep the photo: it is saved.',
      ),
    );
  }
}
