import { preparePhoto } from '../core/count/preparePhoto.ts';
import { good, type Outcome } from '../core/faults/outcome.ts';
import { findPlantsByColour } from '../core/plants/findPlantsByColour.ts';
import { analysisFailed } from '../worker/analysisFailed.ts';
import type { ByColour, MeasureOrder, MeasureReply, MeasureRequest } from '../worker/measureApi.ts';
import { practise } from '../worker/practise.ts';
import { quickLook } from '../worker/quickLook.ts';
import { nowMs } from './clock.ts';
import { decodePhoto } from './decodePhoto.ts';

/**
 * The thread that decodes a photo, finds its reference and looks at it by colour. It lives for one photo: pixels and what
 * was made of them (100 MB and more) are given back for certain only by ending the thread, and the network wants the room.
 */
declare const self: DedicatedWorkerGlobalScope;

const send = (reply: MeasureReply, hand: Transferable[] = []) => self.postMessage(reply, hand);

self.onmessage = async ({ data }: MessageEvent<MeasureOrder>) => {
  if ('practise' in data) {
    await practise(nowMs, () => new Promise((resolve) => setTimeout(resolve)));
    return send({ practised: true });
  }
  const done = await measured(data);
  send({ done }, done.ok ? [done.value.ready.strip.raster.data.buffer as ArrayBuffer] : []);
};

async function measured({ photo, file, options }: MeasureRequest): Promise<Outcome<ByColour>> {
  try {
    const decoded = await decodePhoto(photo, file);
    if (!decoded.ok) return decoded;
    const ready = preparePhoto(decoded.value, options, nowMs);
    const { buffer } = decoded.value.raster.data;
    // Nothing reads the photo's own pixels any more: given back now, not when somebody collects them.
    if (ready.strip.raster.data.buffer !== buffer) (buffer as ArrayBuffer).transfer?.(0);
    const quick = quickLook(ready, nowMs);
    if (quick !== null) send({ quick });
    const colour = findPlantsByColour(ready.strip, ready.search);
    return good({ ready, colour, doneMs: nowMs() });
  } catch (error) {
    return analysisFailed(file, error);
  }
}
