import type { Source } from '../sources/source.ts';
import { published } from '../sources/source.ts';

/** Growth habit of a bean plant: I determinate bush, II upright short vine, III prostrate vine. */
export type GrowthHabit = 'I' | 'II' | 'III';

export const HABIT_NAMES: Readonly<Record<GrowthHabit, string>> = {
  I: 'determinate bush',
  II: 'upright short vine',
  III: 'prostrate vine',
};

export const HABIT_SOURCE: Source = published('ndsuStages2020');
