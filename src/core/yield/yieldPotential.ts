import type { GrowthHabit } from '../targets/growthHabit.ts';
import type { Band } from './band.ts';
import { timesBand } from './band.ts';
import type { Penalty } from './gapPenalty.ts';
import { gapPenalty } from './gapPenalty.ts';
import type { RelativeYield } from './relativeYield.ts';
import { relativeYield } from './relativeYield.ts';
import { spacingPenalty } from './spacingPenalty.ts';

/** What stands in the field. */
export interface StandForYield {
  /** Stand over target, 0 or more. */
  readonly standShare: Band;
  readonly habit: GrowthHabit;
  /** Share of the row in gaps over the costly length; null when nobody measured gaps. */
  readonly gapShare: number | null;
  /** Coefficient of variation of spacings, costly gaps left out; null when nobody measured spacings. */
  readonly spacingCv: number | null;
}

export interface YieldPotential {
  /** Share of a full, even, timely stand's yield. */
  readonly yieldShare: Band;
  readonly even: RelativeYield;
  readonly penalties: readonly Penalty[];
  /** What was not measured, and so was charged nothing. */
  readonly unknown: readonly string[];
}

/**
 * Yield potential of a stand: response of its growth habit times what gaps and uneven spacing cost (multiplied, as
 * the published corn stand-by-date grid multiplies). More plants never lower it; a gap never raises it.
 */
export function yieldPotential(stand: StandForYield): YieldPotential {
  const even = relativeYield((stand.standShare.low + stand.standShare.high) / 2, stand.habit);
  const band: Band = {
    low: relativeYield(stand.standShare.low, stand.habit).yieldShare.low,
    high: relativeYield(stand.standShare.high, stand.habit).yieldShare.high,
  };
  const penalties = [
    ...(stand.gapShare === null ? [] : [gapPenalty(stand.gapShare)]),
    ...(stand.spacingCv === null ? [] : [spacingPenalty(stand.spacingCv)]),
  ];
  return {
    yieldShare: penalties.reduce((sum, penalty) => timesBand(sum, penalty.factor), band),
    even,
    penalties,
    unknown: [
      ...(stand.gapShare === null ? ['gaps were not measured'] : []),
      ...(stand.spacingCv === null ? ['spacings were not measured'] : []),
    ],
  };
}
