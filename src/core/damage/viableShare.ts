import type { Source } from '../sources/source.ts';
import { own, published } from '../sources/source.ts';
import { wilsonInterval } from '../statistics/wilsonInterval.ts';

/** Plants looked at one by one, by growing point. */
export interface GrowingPointTally {
  readonly growing: number;
  readonly budsAlive: number;
  readonly doubtful: number;
  readonly dead: number;
}

export interface ViableShare {
  readonly value: number;
  /** Doubtful all dead, at the lower Wilson edge. */
  readonly low: number;
  /** Doubtful all alive, at the upper Wilson edge. */
  readonly high: number;
  readonly level: number;
  readonly plants: number;
  /** Sure plants and half of the doubtful ones. */
  readonly counts: number;
  readonly method: string;
  readonly source: Source;
  readonly intervalSource: Source;
}

/**
 * Share of the plants standing that will live: sure ones whole, doubtful ones by half (80 sure and 10 doubtful count
 * 85). The interval adds what the doubt itself leaves open to Wilson's sampling error. Null when no plant was judged.
 */
export function viableShare(tally: GrowingPointTally, level = 0.9): ViableShare | null {
  const sure = tally.growing + tally.budsAlive;
  const plants = sure + tally.doubtful + tally.dead;
  if (plants === 0) return null;
  const counts = sure + tally.doubtful / 2;
  return {
    value: counts / plants,
    low: wilsonInterval(sure, plants, level).low,
    high: wilsonInterval(sure + tally.doubtful, plants, level).high,
    level,
    plants,
    counts,
    method: 'Wilson, doubtful plants all dead below and all alive above',
    source: published('questionablePlants'),
    intervalSource: own(
      'doubt about a plant is not sampling error, so it widens the interval instead of vanishing with n',
    ),
  };
}
