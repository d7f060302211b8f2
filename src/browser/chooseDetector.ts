import type { CountTools } from '../core/count/photoAnalysis.ts';
import type { DetectorCard } from '../core/detector/detectorCard.ts';
import { findPlantsWithModel } from '../core/detector/findPlantsWithModel.ts';
import { fuseFindings } from '../core/detector/fuseFindings.ts';
import { findPlantsByColour } from '../core/plants/findPlantsByColour.ts';
import { onnxRunner } from './onnxRunner.ts';

type Detector = Pick<CountTools, 'detector' | 'findPlants'>;

const COLOUR: Detector = { detector: { name: 'none', version: '1' }, findPlants: findPlantsByColour };
const BEST = 'seedlings';
const MOST_THREADS = 4;

const opened = new Map<string, Promise<Detector>>();

/**
 * The detector to use here: `none` is colour alone, `auto` the best network that came with the page. Where it cannot
 * be had (not kept yet and no network, too little memory) colour answers alone, and the result says so by its detector.
 */
export async function chooseDetector(model: string): Promise<Detector> {
  if (model === 'none') return COLOUR;
  const name = model === 'auto' ? BEST : model;
  const known = opened.get(name) ?? openDetector(name);
  opened.set(name, known);
  try {
    return await known;
  } catch {
    opened.delete(name);
    return COLOUR;
  }
}

async function openDetector(name: string): Promise<Detector> {
  const card = (await (await fetched(`/models/${name}.json`)).json()) as DetectorCard;
  const bytes = new Uint8Array(await (await fetched(`/models/${card.file}`)).arrayBuffer());
  const threads = Math.min(MOST_THREADS, navigator.hardwareConcurrency);
  const { run } = await onnxRunner(bytes, { wasmPaths: '/engine/', threads, tryGpu: false });
  return {
    detector: { name: card.name, version: card.sha256.slice(0, 12) },
    findPlants: async (strip, search) =>
      fuseFindings(await findPlantsWithModel(strip, search, run, card), findPlantsByColour(strip, search), strip),
  };
}

async function fetched(address: string): Promise<Response> {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`${address}: ${answer.status}`);
  return answer;
}
