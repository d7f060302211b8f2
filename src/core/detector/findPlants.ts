import type { PlantFindings, PlantSearch } from '../plants/detection.ts';
import { square } from '../statistics/square.ts';
import type { Strip } from '../straighten/strip.ts';
import type { DetectorCard } from './detectorCard.ts';
import { findPlantsWithModel } from './findPlantsWithModel.ts';
import { fuseFindings } from './fuseFindings.ts';
import { mapSupport } from './mapSupport.ts';
import type { ModelRunner, ModelTensor } from './modelRunner.ts';
import { rescaledFindings, rescaledStrip } from './rescale.ts';

/** Scales tried beside the one claimed where it is in doubt: half to twice. */
const STEP = Math.SQRT2;
const STEPS = [-2, -1, 1, 2];
/** The network's memory grows with its input: no larger scale is tried beyond this many pixels. */
const MOST_INPUT_PX = 2_000_000;
/**
 * Another scale has to be supported by this factor more than the one claimed: at 1.5 rendered rows of a true scale lose
 * nothing (F1 0.795 on 20 scenes; 0.784 at 1.1), and real photos of a scale in doubt gain as much.
 */
const CLEARLY = 1.5;

/**
 * What the network sees in a strip, joined with what colour saw in it. Where the scale is only claimed or guessed
 * (`search.scaleKnown` is false), the network also looks at half to twice that scale, and its answer at the best
 * supported one is taken: plants shown at another size than it knows are missed or split. Only how plants are told is
 * chosen by this; lengths stay those of the strip.
 *
 * @param colour findings of the same strip by colour.
 */
export async function findPlants(
  strip: Strip,
  search: PlantSearch,
  colour: PlantFindings,
  run: ModelRunner,
  card: DetectorCard,
): Promise<PlantFindings> {
  if (search.scaleKnown !== false) {
    return fuseFindings(await findPlantsWithModel(strip, search, run, card), colour, strip);
  }
  const { factor, findings } = await atBestScale(strip, search, run, card);
  const fused = fuseFindings(findings, rescaledFindings(colour, factor), rescaledStrip(strip, factor), false);
  return rescaledFindings(fused, 1 / factor);
}

interface Look {
  readonly factor: number;
  readonly support: number;
  readonly findings: PlantFindings;
}

async function atBestScale(strip: Strip, search: PlantSearch, run: ModelRunner, card: DetectorCard): Promise<Look> {
  const look = async (steps: number): Promise<Look> => {
    const factor = STEP ** steps;
    let support = 0;
    const watched = async (input: ModelTensor) => {
      const maps = await run(input);
      support = mapSupport(maps, card);
      return maps;
    };
    const findings = await findPlantsWithModel(rescaledStrip(strip, factor), search, watched, card);
    return { factor, support, findings };
  };
  const claimed = await look(0);
  let best = claimed;
  for (const steps of STEPS) {
    if (steps > 0 && inputPx(strip, card) * STEP ** (2 * steps) > MOST_INPUT_PX) continue;
    const next = await look(steps);
    if (next.support > best.support) best = next;
  }
  return best.support > CLEARLY * claimed.support ? best : claimed;
}

function inputPx({ raster, mmPerPx }: Strip, card: DetectorCard): number {
  return raster.widthPx * raster.heightPx * square(mmPerPx / card.mmPerPx);
}
