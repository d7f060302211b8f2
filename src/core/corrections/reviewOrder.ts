import type { CountResult } from '../count/countResult.ts';
import type { CorrectedPlant } from './correctedPlant.ts';
import type { Correction } from './correction.ts';
import { type CorrectedResult, replay } from './replay.ts';

/** A mark to ask about. */
export interface Question {
  readonly plantId: string;
  /** Variance of the number of crop plants under the mark. */
  readonly doubt: number;
  /** Whether its answer could change the verdict, or, while there is none, put the stand on one side of the floor. */
  readonly decides: boolean;
}

/** Marks with less doubt are asked about only after all others: nine of ten such answers change nothing. */
export const SURE = 0.02;
/** A stem this many standard deviations from an end of the stretch may lie on the other side. */
const NEAR_END_SD = 2;

/**
 * The order in which to ask a person about the marks that nobody has looked at. While the count can
 * change the verdict, marks whose answer moves the count come first; then the rest of the stretch; then what lies outside
 * it. The least certain first in each.
 *
 * @param floorPerM2 least stand that is good enough, crop plants per square metre; null when not known.
 * @param decides whether the count's doubt can change the visit's verdict (`countDecides`); null where there is no
 * verdict yet: then whether its interval holds the floor.
 */
export function reviewOrder(
  result: CountResult,
  corrections: readonly Correction[],
  floorPerM2: number | null = null,
  decides: boolean | null = null,
): readonly Question[] {
  return questions(replay(result, corrections), floorPerM2, decides);
}

/** The same for a result that was already replayed. */
export function questions(
  corrected: CorrectedResult,
  floorPerM2: number | null,
  verdictOpen: boolean | null = null,
): readonly Question[] {
  const open = verdictOpen ?? floorIsOpen(corrected, floorPerM2);
  return corrected.plants
    .filter((plant) => plant.checked === null)
    .map((plant) => {
      const doubt = doubtOf(plant);
      const atEnd = plant.kind === 'plant' && nearEnd(plant, corrected.stretch);
      const decides = open && (plant.inStretch ? doubt > SURE : atEnd);
      return { plantId: plant.id, doubt, decides, rank: decides ? 2 : plant.inStretch || atEnd ? 1 : 0 };
    })
    .sort((a, b) => b.rank - a.rank || b.doubt - a.doubt)
    .map(({ plantId, doubt, decides }) => ({ plantId, doubt, decides }));
}

/** Whether the interval of the count leaves it open on which side of the floor this stretch is. */
export function floorIsOpen({ count, stretch, setting }: CountResult, floorPerM2: number | null): boolean {
  if (floorPerM2 === null || stretch === null || setting === undefined || setting.rowWidthM === null) return false;
  const floor = floorPerM2 * stretch.lengthM * setting.rowWidthM;
  return count.low < floor && floor <= count.high;
}

function doubtOf({ confidence, doubleChance }: CorrectedPlant): number {
  const two = Math.min(doubleChance, 1);
  const one = Math.min(confidence, 1 - two);
  return one + 4 * two - (one + 2 * two) ** 2;
}

function nearEnd({ alongM, alongSdMm }: CorrectedPlant, stretch: CountResult['stretch']): boolean {
  if (stretch === null || alongM === null) return false;
  const reachM = (NEAR_END_SD * (alongSdMm ?? 0)) / 1000;
  return Math.min(Math.abs(alongM - stretch.fromM), Math.abs(alongM - stretch.toM)) <= reachM;
}
