import type { SeedSize } from '../outlook/emergedShare.ts';
import type { Source } from '../sources/source.ts';
import { COMMON_PRACTICE, own, publishedWith } from '../sources/source.ts';
import type { GrowthHabit } from '../targets/growthHabit.ts';
import type { MarketClass } from '../targets/marketClass.ts';
import { marketClassOf } from '../targets/marketClass.ts';

export interface ClassTraits {
  readonly habit: GrowthHabit;
  readonly habitSource: Source;
  readonly seed: SeedSize;
  readonly seedSource: Source;
}

const TRAITS: Readonly<Record<MarketClass, readonly [GrowthHabit, SeedSize]>> = {
  navy: ['II', 'small'],
  black: ['II', 'small'],
  pinto: ['III', 'medium'],
  'great northern': ['III', 'medium'],
  pink: ['III', 'medium'],
  'small red': ['III', 'medium'],
  kidney: ['I', 'large'],
  cranberry: ['I', 'large'],
};

const SIZES = publishedWith(
  'kidney 800 to 1,000 seeds/lb is called large here, pinto to small red 1,200 to 2,000 medium, navy and black 2,400 to 3,000 small',
  'ndsuGuide',
);

/**
 * Usual growth habit and seed size of a market class. Varieties differ, so a habit entered in the visit wins; an
 * unknown class is taken for a bush bean, whose floor is the most careful.
 */
export function classTraits(marketClass: string): ClassTraits {
  const known = marketClassOf(marketClass);
  if (known === null) {
    const careful = own(`"${marketClass}" is not in the table: taken for a bush bean of medium seed, the careful side`);
    return { habit: 'I', habitSource: careful, seed: 'medium', seedSource: careful };
  }
  const [habit, seed] = TRAITS[known];
  return { habit, habitSource: COMMON_PRACTICE, seed, seedSource: SIZES };
}
