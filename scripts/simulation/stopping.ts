import type { FieldSpot } from '../../src/core/sampling/fieldSpot.ts';
import { fieldStand } from '../../src/core/sampling/fieldStand.ts';
import { STOPPING, type StoppingOptions, stoppingRule } from '../../src/core/sampling/stoppingRule.ts';
import type { Random } from '../../src/core/statistics/seededRandom.ts';
import { SPOT_AREA_M2 } from './coverage.ts';
import { countSpot, type FieldKind, simulateField } from './simulatedField.ts';

export interface StoppingResult {
  readonly fields: number;
  /** Shares of all fields: kept below the floor, or called below it while above. */
  readonly wrong: number;
  /** The same share among fields within 10 % of the floor, where calls are hardest. */
  readonly wrongNearFloor: number;
  readonly undecided: number;
  readonly meanSpots: number;
  /** A fixed rule of 4 spots that goes by their mean alone. */
  readonly wrongOfFour: number;
}

const FLOOR_PLANTS = 50;

/** Runs the stopping rule on fields whose good ground holds 25 to 100 plants on 1/1000 ac, against a floor of 50. */
export function stopping(
  kind: FieldKind,
  fields: number,
  random: Random,
  options: StoppingOptions = STOPPING,
): StoppingResult {
  let [wrong, near, wrongNear, undecided, spotsUsed, wrongOfFour] = [0, 0, 0, 0, 0, 0];
  for (let f = 0; f < fields; f++) {
    const field = simulateField(kind, 25 + 75 * random(), random);
    const all: FieldSpot[] = Array.from({ length: options.mostSpots }, (_, i) => ({
      id: `${i + 1}`,
      plants: countSpot(field, random),
      areaM2: SPOT_AREA_M2,
    }));
    const fourMean = all.slice(0, 4).reduce((sum, spot) => sum + spot.plants, 0) / 4;
    if (fourMean >= FLOOR_PLANTS !== field.mean >= FLOOR_PLANTS) wrongOfFour++;
    let n = options.leastSpots;
    let answer = judge(all.slice(0, n), options);
    for (; answer === 'more spots'; answer = judge(all.slice(0, n), options)) n++;
    spotsUsed += n;
    if (answer === 'at the floor') undecided++;
    const miss =
      (answer === 'above' && field.mean < FLOOR_PLANTS) || (answer === 'below' && field.mean >= FLOOR_PLANTS);
    if (miss) wrong++;
    if (Math.abs(field.mean / FLOOR_PLANTS - 1) <= 0.1) {
      near++;
      if (miss) wrongNear++;
    }
  }
  return {
    fields,
    wrong: wrong / fields,
    wrongNearFloor: wrongNear / near,
    undecided: undecided / fields,
    meanSpots: spotsUsed / fields,
    wrongOfFour: wrongOfFour / fields,
  };
}

function judge(spots: readonly FieldSpot[], options: StoppingOptions) {
  const stand = fieldStand(spots, 0.9);
  if (!stand.ok) throw new Error(stand.code);
  return stoppingRule(stand.value, FLOOR_PLANTS / SPOT_AREA_M2, options).answer;
}
