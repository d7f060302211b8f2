import type { GrowthHabit } from '../targets/growthHabit.ts';
import type { Band } from './band.ts';
import type { ResponsePoint } from './responseCurves.ts';
import { RESPONSE_CURVES } from './responseCurves.ts';

export interface RelativeYield {
  readonly yieldShare: Band;
  /** The published points on either side of the stand. */
  readonly between: readonly ResponsePoint[];
}

/**
 * Yield of an even stand as a share of a full stand's, straight between published points and level above a full
 * stand. Never falls as plants are added. `standShare` is stand over target, 0 or more.
 */
export function relativeYield(standShare: number, habit: GrowthHabit): RelativeYield {
  const points = RESPONSE_CURVES[habit];
  const x = Math.max(0, standShare);
  for (let i = 1; i < points.length; i++) {
    const left = points[i - 1]!;
    const right = points[i]!;
    if (x > right.standShare) continue;
    const t = (x - left.standShare) / (right.standShare - left.standShare);
    return {
      yieldShare: {
        low: left.yieldShare.low + t * (right.yieldShare.low - left.yieldShare.low),
        high: left.yieldShare.high + t * (right.yieldShare.high - left.yieldShare.high),
      },
      between: [left, right],
    };
  }
  const full = points[points.length - 1]!;
  return { yieldShare: full.yieldShare, between: [full] };
}
