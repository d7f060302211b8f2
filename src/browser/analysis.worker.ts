import { countFindings } from '../core/count/countFindings.ts';
import type { PreparedPhoto } from '../core/count/preparedPhoto.ts';
import { COLOUR_IDENTITY } from '../core/detector/detectorIdentity.ts';
import { type Cannot, good } from '../core/faults/outcome.ts';
import type { Head } from '../core/learning/head.ts';
import { fittingHead, judgeFindings } from '../core/learning/judgeFindings.ts';
import type { StockMarks } from '../core/learning/stockMarks.ts';
import type { PlantFindings } from '../core/plants/detection.ts';
import type { Warning } from '../core/reference/reference.ts';
import type { AnalysisReply, AnalysisRequest, Measured } from '../worker/analysisApi.ts';
import { analysisFailed } from '../worker/analysisFailed.ts';
import { colourAlone } from '../worker/colourAlone.ts';
import { nowMs } from './clock.ts';
import { measuringThread } from './measuringThread.ts';
import { fetchNetwork, type Network, openNetwork } from './openNetwork.ts';
import { practisedThread } from './practisedThread.ts';
import { startNetworkThread } from './startNetworkThread.ts';

/**
 * The thread that leads one photo at a time through the others, so that the page never stops answering a thumb: one takes
 * the pixels apart, one runs the network. Both end when they have answered; only that gives their memory back.
 */
declare const self: DedicatedWorkerGlobalScope;

let queue: Promise<void> = Promise.resolve();
/** Started before its photo is there, so that nobody waits for its code; the first one has practised, given the time. */
const pixels = practisedThread(measuringThread);
pixels.practise();

self.onmessage = ({ data }: MessageEvent<AnalysisRequest>) => {
  queue = queue.then(() => answer(data));
};

async function answer(request: AnalysisRequest): Promise<void> {
  const { id, photo, file, options, model, head } = request;
  const send = (stage: AnalysisReply['stage'], outcome: AnalysisReply['outcome']) =>
    self.postMessage({ id, stage, outcome } satisfies AnalysisReply);
  const fetching = model === 'none' ? null : fetchNetwork(model);
  // Told only when it is needed.
  fetching?.catch(() => undefined);
  let opening: Promise<Network> | null = null;
  // Started only when the photo's pixels are given back: the engine and they are the two largest things here.
  const open = () => {
    opening ??= fetching?.then(async (files) => openNetwork(files, await startNetworkThread())) ?? null;
    opening?.catch(() => undefined);
  };
  try {
    const done = await pixels.take().measure({ photo, file, options }, (quick) => {
      send('quick', good({ result: quick, stock: null }));
      // Opens while colour is looked at once more, whole.
      open();
    });
    if (!done.ok) return send('last', done);
    const { ready, colour, doneMs } = done.value;
    const { result } = countFindings(ready, colour, COLOUR_IDENTITY, doneMs);
    const first = good({ result, stock: null });
    open();
    if (opening === null) return send('last', first);
    send('first', first);
    send('last', good(await refined(ready, colour, opening, head)));
  } catch (error) {
    send('last', analysisFailed(file, error));
  } finally {
    (opening as Promise<Network> | null)?.then((network) => network.close()).catch(() => undefined);
    // No practice: this thread and those under it end soon after a photo, and a new one practises.
    pixels.prepare();
  }
}

/** The network's count of the same strip; colour's, with the reason, where there is no network or it fails. */
async function refined(
  ready: PreparedPhoto,
  colour: PlantFindings,
  opening: Promise<Network>,
  head: Head | null,
): Promise<Measured> {
  try {
    const network = await opening;
    return judged(ready, network.detector, await network.refine(ready.strip, ready.search, colour), head);
  } catch (error) {
    const warning = colourAlone((error as Error).message);
    const warned = { ...colour, warnings: [...colour.warnings, warning] };
    return { result: countFindings(ready, warned, COLOUR_IDENTITY, nowMs()).result, stock: null };
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
  const warnings = fits?.ok === false ? [...findings.warnings, headLeftOut(fits)] : findings.warnings;
  const { result } = countFindings(ready, { ...findings, warnings }, detector, nowMs());
  return { result, stock: 'none' in ready.ground ? null : stock };
}

function headLeftOut({ code, found }: Cannot): Warning {
  const message = `Counted without what was learned on this farm: ${found}. Learn anew.`;
  return { code: 'head-left-out', values: { why: code }, message };
}
