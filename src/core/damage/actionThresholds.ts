import type { Source } from '../sources/source.ts';
import { published } from '../sources/source.ts';
import { METRES_PER_FOOT } from '../units/conversions.ts';

export interface ThresholdReading {
  readonly reached: boolean;
  readonly says: string;
  readonly source: Source;
}

/** Cutworm: one larva in three feet of row, or a fifth of the plants cut (NDSU entomology, 9 May 2002). */
export function cutwormThreshold(found: {
  readonly larvae: number;
  readonly rowLengthM: number;
  readonly cutShare: number | null;
}): ThresholdReading {
  const perThreeFeet = found.rowLengthM > 0 ? (found.larvae / (found.rowLengthM / METRES_PER_FOOT)) * 3 : 0;
  // A tape read to the nearest inch must not hide a larva that is exactly at the threshold.
  const reached = perThreeFeet >= 1 - 1e-9 || (found.cutShare ?? 0) >= 0.2;
  return {
    reached,
    says: `${perThreeFeet.toFixed(1)} larvae in 3 ft of row (threshold 1)${
      found.cutShare === null ? '' : `, ${Math.round(found.cutShare * 100)} % cut (threshold 20 %)`
    }`,
    source: published('ndsuCutworm2002'),
  };
}

/** Rotary hoe: more than a tenth of the plants buried or torn out means stop and set it again. */
export function rotaryHoeThreshold(lostShare: number): ThresholdReading {
  return {
    reached: lostShare >= 0.1,
    says: `${Math.round(lostShare * 100)} % buried or torn out (keep it below 10 %)`,
    source: published('ontarioBeans'),
  };
}

export type SalinityHarm = 'none expected' | 'yield loss' | 'severe';

/** Soil salinity: beans lose yield above 2 dS/m, badly above 3.5 (Colorado State Fact Sheet 0.539). */
export function salinityHarm(dsPerM: number): { readonly harm: SalinityHarm; readonly source: Source } {
  const harm = dsPerM > 3.5 ? 'severe' : dsPerM > 2 ? 'yield loss' : 'none expected';
  return { harm, source: published('csuBeans') };
}
