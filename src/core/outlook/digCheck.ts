import type { Source } from '../sources/source.ts';
import { own } from '../sources/source.ts';
import { wilsonInterval } from '../statistics/wilsonInterval.ts';

/** Seeds (or the places where one should lie) found by digging in the bare row. */
export interface DigCheck {
  readonly sprouting: number;
  readonly hard: number;
  readonly rotted: number;
  readonly eaten: number;
  readonly notFound: number;
}

export type Crust = 'none' | 'soft' | 'hard';

export interface StillToCome {
  /** Share of the missing plants that is expected to come, 0 to 1. */
  readonly middle: number;
  readonly low: number;
  readonly high: number;
  readonly seedsDug: number;
  readonly method: string;
  readonly source: Source;
}

/** Chance that a seed in this state still makes a plant. No published figures were read. */
const SPROUT_CHANCE: Readonly<Record<Crust, { low: number; high: number }>> = {
  none: { low: 0.7, high: 0.95 },
  soft: { low: 0.5, high: 0.9 },
  hard: { low: 0.2, high: 0.6 },
};
const HARD_SEED_CHANCE = {
  rain: { low: 0.4, high: 0.8 },
  dry: { low: 0, high: 0.3 },
  unknown: { low: 0.1, high: 0.7 },
} as const;

const CHANCES_SOURCE = own(
  'no published chances were read; sprouting 70 to 95 %, 50 to 90 % under a soft crust, 20 to 60 % under a hard one; hard seed 40 to 80 % with rain ahead, 0 to 30 % without',
);

/** Joins several dig checks of one field: the seeds add up. */
export function joinDigChecks(checks: readonly DigCheck[]): DigCheck | null {
  if (checks.length === 0) return null;
  const sum = (key: keyof DigCheck) => checks.reduce((total, check) => total + check[key], 0);
  return {
    sprouting: sum('sprouting'),
    hard: sum('hard'),
    rotted: sum('rotted'),
    eaten: sum('eaten'),
    notFound: sum('notFound'),
  };
}

/**
 * Share of the missing plants still to come, from seeds dug up. Rotted, eaten and missing seeds are lost. The range
 * stacks the 90 % Wilson edges of the two living groups with the edges of their chances, so it is wider than 90 %.
 * Null when no seed was dug for.
 */
export function stillToCome(dig: DigCheck, crust: Crust | null, rainExpected: boolean | null): StillToCome | null {
  const seedsDug = dig.sprouting + dig.hard + dig.rotted + dig.eaten + dig.notFound;
  if (seedsDug === 0) return null;
  const sprout = SPROUT_CHANCE[crust ?? 'none'];
  const hard = HARD_SEED_CHANCE[rainExpected === null ? 'unknown' : rainExpected ? 'rain' : 'dry'];
  const sprouting = wilsonInterval(dig.sprouting, seedsDug, 0.9);
  const hardSeed = wilsonInterval(dig.hard, seedsDug, 0.9);
  const middle = (dig.sprouting * (sprout.low + sprout.high) + dig.hard * (hard.low + hard.high)) / (2 * seedsDug);
  return {
    middle,
    low: sprouting.low * sprout.low + hardSeed.low * hard.low,
    high: Math.min(1, sprouting.high * sprout.high + hardSeed.high * hard.high),
    seedsDug,
    method: 'Wilson edges of sprouting and hard seed, stacked with the edges of their chances',
    source: CHANCES_SOURCE,
  };
}
