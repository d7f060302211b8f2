import type { SeedSize } from '../outlook/emergedShare.ts';
import type { Source } from '../sources/source.ts';
import { own, publishedWith } from '../sources/source.ts';
import type { GrowthHabit } from '../yield/growthHabit.ts';

export interface ClassTraits {
  readonly habit: GrowthHabit;
  readonly seed: SeedSize;
  readonly source: Source;
}

const TRAITS: Readonly<Record<string, readonly [GrowthHabit, SeedSize]>> = {
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
  'kidney 800 to 1,000 seeds/lb is large, navy and black 2,400 to 3,000 small; habit is that of most varieties of the class',
  'ndsuGuide',
);

/**
 * Usual growth habit and seed size of a market class. Varieties differ, so a habit entered in the visit wins; an
 * unknown class is taken for a bush bean, whose floor is the most careful.
 */
export function classTraits(marketClass: string): ClassTraits {
  const name = marketClass
    .trim()
    .toLowerCase()
    .replace(/\s*beans?$/, '');
  const known = Object.keys(TRAITS).find((key) => name === key || name.endsWith(` ${key}`));
  if (known === undefined) {
    return {
      habit: 'I',
      seed: 'medium',
      source: own(`"${marketClass}" is not in the table: taken for a bush bean, the careful side`),
    };
  }
  const [habit, seed] = TRAITS[known]!;
  return { habit, seed, source: SIZES };
}
