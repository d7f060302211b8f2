import { readFile } from 'node:fs/promises';
import { performance } from 'node:perf_hooks';
import type { DetectorCard } from '../../src/core/detector/detectorCard.ts';
import { findPlantsWithModel } from '../../src/core/detector/findPlantsWithModel.ts';
import { fuseFindings } from '../../src/core/detector/fuseFindings.ts';
import type { PlantFindings, PlantSearch } from '../../src/core/plants/detection.ts';
import { findPlantsByColour } from '../../src/core/plants/findPlantsByColour.ts';
import type { Strip } from '../../src/core/straighten/strip.ts';
import { onnxRunner } from '../../src/node/onnxRunner.ts';

/** What is compared, the plainest first. */
export const ARMS = ['colour', 'network', 'fused', 'fused + head'] as const;
export type Arm = (typeof ARMS)[number];

/** Marks of one strip by each way of finding them, and what each took, milliseconds. */
export type Findings = Readonly<Record<Exclude<Arm, 'fused + head'>, { findings: PlantFindings; ms: number }>>;

/** Opens the network once; the function given runs colour, network and both joined on one strip. */
export async function openDetectors(
  threads: number,
): Promise<(strip: Strip, search: PlantSearch) => Promise<Findings>> {
  const card = JSON.parse(await readFile('models/seedlings.json', 'utf8')) as DetectorCard;
  const run = await onnxRunner(await readFile(`models/${card.file}`), { threads });
  return async (strip, search) => {
    const start = performance.now();
    const colour = findPlantsByColour(strip, search);
    const colourDone = performance.now();
    const network = await findPlantsWithModel(strip, search, run, card);
    const networkDone = performance.now();
    const fused = fuseFindings(network, colour, strip);
    const fusedDone = performance.now();
    return {
      colour: { findings: colour, ms: colourDone - start },
      network: { findings: network, ms: networkDone - colourDone },
      fused: { findings: fused, ms: fusedDone - start },
    };
  };
}
