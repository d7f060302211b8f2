import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { CountTools } from '../core/count/photoAnalysis.ts';
import type { DetectorCard } from '../core/detector/detectorCard.ts';
import { COLOUR_IDENTITY, joinedIdentity } from '../core/detector/detectorIdentity.ts';
import { findPlants } from '../core/detector/findPlants.ts';
import { cannot, good, type Outcome } from '../core/faults/outcome.ts';
import { findPlantsByColour } from '../core/plants/findPlantsByColour.ts';

export type Detector = Pick<CountTools, 'detector' | 'findPlants'>;

const COLOUR: Detector = { detector: COLOUR_IDENTITY, findPlants: findPlantsByColour };
const BEST = 'seedlings';

/** The detector a person named: `none` is colour alone, `auto` the best there is, else a model of the models folder. */
export async function chooseDetector(name: string): Promise<Outcome<Detector>> {
  if (name === 'none') return good(COLOUR);
  const file = join(modelsFolder(), `${name === 'auto' ? BEST : name}.json`);
  if (!/^[\w.-]+$/.test(name) || !existsSync(file)) {
    if (name === 'auto') return good(COLOUR);
    return cannot('usage', `there is no model "${name}"`, `none, auto, ${BEST}`, 'Leave --model out.');
  }
  const card = JSON.parse(await readFile(file, 'utf8')) as DetectorCard;
  const { onnxRunner } = await import('./onnxRunner.ts');
  const run = await onnxRunner(await readFile(join(modelsFolder(), card.file)), {
    threads: Math.min(4, availableParallelism()),
  });
  return good({
    detector: joinedIdentity(card),
    findPlants: (strip, search) => findPlants(strip, search, findPlantsByColour(strip, search), run, card),
  });
}

/** The models lie beside src and dist alike. */
function modelsFolder(): string {
  return join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'models');
}
