import type { CountResult } from '../../core/count/countResult.ts';
import { SQUARE_METRES_PER_ACRE, SQUARE_METRES_PER_HECTARE } from '../../core/units/conversions.ts';
import { formatLength, type LengthSystem } from '../../core/units/formatLength.ts';
import { formatPopulationNumber } from '../../core/units/formatPopulation.ts';
import { plural } from '../parts/plural.ts';

/** The numbers on top, ready to show. Null: cannot be told from this photo. */
export interface Numbers {
  readonly count: string;
  readonly range: string;
  readonly population: string | null;
  /** The same share of certainty as the count's. */
  readonly populationRange: string;
  readonly populationUnit: string;
  readonly spacing: string | null;
  readonly gap: string | null;
  /** Where there is none: what would be one. */
  readonly leastGap: string;
}

/** A mean spacing is told to a tenth of an inch or a millimetre: what a tape can tell of many plants together. */
export function numbersOf(result: CountResult, system: LengthSystem): Numbers {
  const { count, population, spacing, gaps, stretch, setting } = result;
  const longest = gaps.reduce((most, gap) => Math.max(most, gap.lengthM), 0);
  const imperial = system === 'imperial';
  const unit = imperial ? 'perAcre' : 'perHectare';
  const areasInAcre = imperial ? 1 : SQUARE_METRES_PER_HECTARE / SQUARE_METRES_PER_ACRE;
  const ends = population === null ? [] : [population.lowPerAcre, population.highPerAcre];
  const range = ends.map((perAcre) => formatPopulationNumber(perAcre * areasInAcre, unit));
  // Results of early versions do not say what was called a gap.
  const least = setting === undefined ? '' : `over ${formatLength(setting.gapM, system)}`;
  return {
    count: String(count.value),
    range: `${count.low}–${count.high}`,
    population: population === null ? null : formatPopulationNumber(population[unit], unit),
    populationRange: range.join('–'),
    populationUnit: imperial ? 'plants/ac' : 'plants/ha',
    spacing: spacing === null || spacing.meanM === null ? null : formatLength(spacing.meanM, system),
    gap: stretch === null ? null : longest > 0 ? formatLength(longest, system) : 'none',
    leastGap: stretch === null || longest > 0 ? '' : least,
  };
}

/** The same in one spoken line. */
export function numbersSpoken(numbers: Numbers): string {
  return `${plural(Number(numbers.count), 'plant')}, ${numbers.range.replace('–', ' to ')}`;
}
