import type { CountResult } from '../../core/count/countResult.ts';
import { formatLength, type LengthSystem } from '../../core/units/formatLength.ts';
import { formatPopulationNumber } from '../../core/units/formatPopulation.ts';

/** The numbers on top, ready to show. Null: cannot be told from this photo. */
export interface Numbers {
  readonly count: string;
  readonly range: string;
  readonly population: string | null;
  readonly populationUnit: string;
  readonly spacing: string | null;
  readonly gap: string | null;
}

/** A mean spacing is told to a tenth of an inch or a millimetre: what a tape can tell of many plants together. */
export function numbersOf({ count, population, spacing, gaps, stretch }: CountResult, system: LengthSystem): Numbers {
  const longest = gaps.reduce((most, gap) => Math.max(most, gap.lengthM), 0);
  const imperial = system === 'imperial';
  const perArea = population === null ? null : imperial ? population.perAcre : population.perHectare;
  return {
    count: String(count.value),
    range: `${count.low}–${count.high}`,
    population: perArea === null ? null : formatPopulationNumber(perArea, imperial ? 'perAcre' : 'perHectare'),
    populationUnit: imperial ? 'plants/ac' : 'plants/ha',
    spacing: spacing === null || spacing.meanM === null ? null : formatLength(spacing.meanM, system),
    gap: stretch === null ? null : longest > 0 ? formatLength(longest, system) : 'none',
  };
}

/** The same in one spoken line. */
export function numbersSpoken(numbers: Numbers): string {
  return `${numbers.count} plants, ${numbers.range.replace('–', ' to ')}`;
}
