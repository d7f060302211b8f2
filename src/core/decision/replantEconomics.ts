import type { IsoDay } from '../outlook/calendar.ts';
import { addDays, daysBetween } from '../outlook/calendar.ts';
import type { GrowthHabit } from '../targets/growthHabit.ts';
import type { Band } from '../yield/band.ts';
import { middle } from '../yield/band.ts';
import type { LocalDateRule } from '../yield/dateFactor.ts';
import { dateFactor } from '../yield/dateFactor.ts';
import { relativeYield } from '../yield/relativeYield.ts';
import type { ReplantCosts } from './replantCosts.ts';
import { totalReplantCost } from './replantCosts.ts';

/** Everything that money needs to know. Money and yield share one area; price is money for one unit of that yield. */
export interface ReplantCase {
  /** Yield potential of the stand as it is (with penalties and its own planting date), as a share of full. */
  readonly keepYieldShare: Band;
  /** How full the new stand is expected to be, as a share of the target. */
  readonly replantStandShare: Band;
  readonly habit: GrowthHabit;
  readonly replantDay: IsoDay;
  readonly localDateRule: LocalDateRule | null;
  readonly fullYieldPerArea: number;
  readonly price: number;
  readonly costs: ReplantCosts;
}

export interface ReplantBalance {
  readonly keepValuePerArea: number;
  readonly replantValuePerArea: number;
  readonly costPerArea: number;
  /** Replant value less keep value less cost: above 0 replanting pays. */
  readonly gainPerArea: number;
}

/** Yield of a new stand planted on a day, as a share of a full and timely one. */
export function replantYieldShare(
  of: Pick<ReplantCase, 'replantStandShare' | 'habit' | 'localDateRule'>,
  day: IsoDay,
): Band {
  const date = dateFactor(day, of.localDateRule).factor;
  return {
    low: relativeYield(of.replantStandShare.low, of.habit).yieldShare.low * date.low,
    high: relativeYield(of.replantStandShare.high, of.habit).yieldShare.high * date.high,
  };
}

/** Gain of replanting at given yields: price x (replant - keep) - cost. */
export function balanceAt(keepShare: number, replantShare: number, of: ReplantCase): ReplantBalance {
  const costPerArea = totalReplantCost(of.costs);
  const keepValuePerArea = of.price * of.fullYieldPerArea * keepShare;
  const replantValuePerArea = of.price * of.fullYieldPerArea * replantShare;
  return {
    keepValuePerArea,
    replantValuePerArea,
    costPerArea,
    gainPerArea: replantValuePerArea - keepValuePerArea - costPerArea,
  };
}

/** The balance in the middle of both bands. */
export function middleBalance(of: ReplantCase): ReplantBalance {
  return balanceAt(middle(of.keepYieldShare), middle(replantYieldShare(of, of.replantDay)), of);
}

const BISECTIONS = 40;

/**
 * Even, gap-free stand (share of target) at which keeping and replanting come out the same in the middle of the
 * bands; null when keeping wins even with no plants, 1 when replanting wins even over a full stand.
 */
export function breakEvenStandShare(of: ReplantCase): number | null {
  const replant = middle(replantYieldShare(of, of.replantDay));
  const gain = (stand: number) => balanceAt(middle(relativeYield(stand, of.habit).yieldShare), replant, of).gainPerArea;
  if (gain(0) <= 0) return null;
  if (gain(1) >= 0) return 1;
  let low = 0;
  let high = 1;
  for (let i = 0; i < BISECTIONS; i++) {
    const half = (low + high) / 2;
    if (gain(half) > 0) low = half;
    else high = half;
  }
  return (low + high) / 2;
}

/** Last day up to `lastDay` on which replanting still pays in the middle of the bands; null when it does on none. */
export function breakEvenReplantDay(of: ReplantCase, lastDay: IsoDay): IsoDay | null {
  const keep = middle(of.keepYieldShare);
  let best: IsoDay | null = null;
  for (let ahead = 0; ahead <= daysBetween(of.replantDay, lastDay); ahead++) {
    const day = addDays(of.replantDay, ahead);
    if (balanceAt(keep, middle(replantYieldShare(of, day)), of).gainPerArea > 0) best = day;
  }
  return best;
}
