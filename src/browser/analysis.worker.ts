import { countFindings } from '../core/count/countFindings.ts';
import type { PreparedPhoto } from '../core/count/preparedPhoto.ts';
import { preparePhoto } from '../core/count/preparePhoto.ts';
import { cannot, good, type Outcome } from '../core/faults/outcome.ts';
import type { Head } from '../core/learning/head.ts';
import { fittingHead, judgeFindings } from '../core/learning/judgeFindings.ts';
import type { StockMarks } from '../core/learning/stockMarks.ts';
import type { PlantFindings } from '../core/plants/detection.ts';
import { findPlantsByColour } from '../core/plants/findPlantsByColour.ts';
import type { Warning } from '../core/reference/reference.ts';
import type { AnalysisReply, AnalysisRequest, Measured } from '../worker/analysisApi.ts';
import { COLOUR_DETECTOR, colourAlone } from '../worker/colourAlone.ts';
import { decodePhoto } from './decodePhoto.ts';
import { fetchNetwork, type NetworkFiles, openNetwork } from './openNetwork.ts';

/** The thread that measures photos, so that the page never stops answering a thumb. One photo at a time. */
declare const self: DedicatedWorkerGlobalScope;

let queue: Promise<void> = Promise.resolve();
const nowMs = () => performance.now();

self.onmessage = ({ data }: MessageEvent<AnalysisRequest>) => {
  queue = queue.then(() => answer(data));
};

async function answer(request: AnalysisRequest): Promise<void> {
  const { id, file, model, head } = request;
  const send = (stage: AnalysisReply['stage'], outcome: AnalysisReply['outcome']) =>
    self.postMessage({ id, stage, outcome } satisfies AnalysisReply);
  try {
    const fetching = model === 'none' ? null : fetchNetwork(model);
    // Told only when it is needed.
    fetching?.catch(() => undefined);
    const ready = await prepared(request);
    if (!ready.ok) return send('last', ready);
    const colour = findPlantsByColour(ready.value.strip, ready.value.search);
    const { result } = countFindings(ready.value, colour, COLOUR_DETECTOR, nowMs());
    const first = good({ result, stock: null });
    if (fetching === null) return send('last', first);
    send('first', first);
    send('last', good(await refined(ready.value, colour, fetching, head)));
  } catch (error) {
    const outcome = cannot(
      'analysis-failed',
      `${file}: ${(error as Error).message}`,
      'a photo this tool can measure',
      'Count by hand, and keep the photo: it is saved.',
    );
    send('last', outcome);
  }
}

/** The photo up to its straightened row; its pixels are let go when this returns. */
async function prepared({ photo, file, options }: AnalysisRequest): Promise<Outcome<PreparedPhoto>> {
  const decoded = await decodePhoto(photo, file);
  return decoded.ok ? good(preparePhoto(decoded.value, options, nowMs)) : decoded;
}

/** The network's count of the same strip; colour's, with the reason, where there is no network or it fails. */
async function refined(
  ready: PreparedPhoto,
  colour: PlantFindings,
  fetching: Promise<NetworkFiles>,
  head: Head | null,
): Promise<Measured> {
  try {
    const network = await openNetwork(await fetching);
    try {
      return judged(ready, network.detector, await network.refine(ready.strip, ready.search, colour), head);
    } finally {
      network.close();
    }
  } catch (error) {
    const warning = colourAlone((error as Error).message);
    const warned = { ...colour, warnings: [...colour.warnings, warning] };
    return { result: countFindings(ready, warned, COLOUR_DETECTOR, nowMs()).result, stock: null };
  }
}

/** What the network found, as the farm's head sees it where one is in use and fits. */
function judged(
  ready: PreparedPhoto,
  stockDetector: StockMarks['detector'],
  seen: PlantFindings,
  head: Head | null,
): Measured {
  const fits = head === null ? null : fittingHead(head, stockDetector);
  const { detector, findings, stock } = judgeFindings(stockDetector, seen, ready.strip, fits?.ok ? fits.value : null);
  const warnings = fits?.ok === false ? [...findings.warnings, headLeftOut(fits.found)] : findings.warnings;
  const { result } = countFindings(ready, { ...findings, warnings }, detector, nowMs());
  return { result, stock: 'none' in ready.ground ? null : stock };
}

function headLeftOut(why: string): Warning {
  return { code: 'head-left-out', message: `Counted without what was learned on this farm: ${why}. Learn anew.` };
}
