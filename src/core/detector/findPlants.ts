import type { PlantFindings, PlantSearch } from '../plants/detection.ts';
import { square } from '../statistics/square.ts';
import type { Strip } from '../straighten/strip.ts';
import type { DetectorCard } from './detectorCard.ts';
import { findPlantsWithModel } from './findPlantsWithModel.ts';
import { fuseFindings } from './fuseFindings.ts';
import { mapSupport } from './mapSupport.ts';
import type { ModelRunner, ModelTensor } from './modelRunner.ts';
import { rescaledFindings, rescaledStrip } from './rescale.ts';

/** Scales tried beside the one claimed where it is in doubt, in steps of this factor: at most two down or two up. */
const STEP = Math.SQRT2;
const LARGER = [1, 2];
/** The network's memory grows with its input: no larger scale is tried beyond this many pixels. */
const MOST_INPUT_PX = 4_000_000;
/**
 * A larger picture has to be supported by this factor more for each step. Support grows steeply up to the scale that the
 * network knows and hardly beyond it, where leaves are split. (On 20 rendered scenes seen straight down, claimed at 0.35 to
 * 1.4 times their true scale in steps of 1.4, F1 0.80, 0.83, 0.84, 0.84 and 0.83; with the best supported of all scales
 * 0.82, 0.82, 0.83, 0.74 and 0.56.)
 */
const GROWS = 1.2;
/** Support of one plant of middling score: less than this is chance. */
const ONE_PLANT = 0.25;

/**
 * What the network sees in a strip, joined with what colour saw in it. Where the scale is only claimed or guessed
 * (`search.scaleKnown` is false), the network also looks at half to twice that scale, and its answer at the one from
 * which its support grows no further is taken: plants shown at another size than it knows are missed or split. Only how
 * plants are told is chosen by this; lengths stay those of the strip.
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
  const smaller = await look(-1);
  if (smaller.support > claimed.support + ONE_PLANT) {
    const smallest = await look(-2);
    return smallest.support > smaller.support ? smallest : smaller;
  }
  let best = claimed;
  for (const steps of LARGER) {
    if (inputPx(strip, card) * STEP ** (2 * steps) > MOST_INPUT_PX) break;
    const next = await look(steps);
    if (next.support < GROWS * best.support) break;
    best = next;
  }
  return best;
}

function inputPx({ raster, mmPerPx }: Strip, card: DetectorCard): number {
  return raster.widthPx * raster.heightPx * square(mmPerPx / card.inputMmPerPx);
}
