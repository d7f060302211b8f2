import { fromMemory, publishedWith, type Source } from '../sources/source.ts';
import type { MarketClass } from './marketClass.ts';

/** Seeds in a pound, by class. Seed lots differ: a counted and weighed sample beats the table. */
export interface SeedCount {
  readonly lowPerPound: number;
  readonly highPerPound: number;
  readonly source: Source;
}

function guide(lowPerPound: number, highPerPound: number, note = 'table of seeds per pound'): SeedCount {
  return { lowPerPound, highPerPound, source: publishedWith(note, 'ndsuGuide') };
}

export const SEED_COUNTS: Readonly<Record<MarketClass, SeedCount>> = {
  navy: guide(2400, 3000, 'table; its text says 2,200 to 2,500'),
  black: guide(2400, 3000),
  pinto: guide(1200, 1400, 'table; its text says 1,200 to 1,500'),
  'great northern': guide(1400, 1800),
  kidney: guide(800, 1000),
  cranberry: { lowPerPound: 800, highPerPound: 1000, source: fromMemory('about 800 to 1,000 seeds per pound') },
  pink: guide(1600, 2000),
  'small red': guide(1600, 2000),
};
