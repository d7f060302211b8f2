/** Plants newly up on each day of counting (day numbers since planting), never running totals. */
export interface DailyEmergence {
  readonly day: number;
  readonly newPlants: number;
}

/** Timing of an emergence read straight from daily counts, without a curve. */
export interface EmergenceMoments {
  readonly plants: number;
  readonly meanDays: number;
  readonly varianceDays2: number;
  readonly standardErrorDays: number;
  readonly cv: number;
  /** Day by which half were up: (N+1)/2 form of Coolbear, Francis and Grierson. */
  readonly t50CoolbearDays: number;
  /** Same with N/2, after Farooq and others. */
  readonly t50FarooqDays: number;
}

/**
 * Mean time, its spread, and t50 by linear steps between counting days. Definitions and check values: the
 * germinationmetrics R package (ICAR-NBPGR). Null with no plants at all; variance needs two.
 */
export function emergenceMoments(counts: readonly DailyEmergence[]): EmergenceMoments | null {
  const sorted = [...counts].sort((a, b) => a.day - b.day);
  const plants = sorted.reduce((sum, c) => sum + c.newPlants, 0);
  if (plants <= 0) return null;
  const meanDays = sorted.reduce((sum, c) => sum + c.newPlants * c.day, 0) / plants;
  const squares = sorted.reduce((sum, c) => sum + c.newPlants * (c.day - meanDays) ** 2, 0);
  const varianceDays2 = plants > 1 ? squares / (plants - 1) : 0;
  return {
    plants,
    meanDays,
    varianceDays2,
    standardErrorDays: Math.sqrt(varianceDays2 / plants),
    cv: Math.sqrt(varianceDays2) / meanDays,
    t50CoolbearDays: dayOfRank(sorted, (plants + 1) / 2),
    t50FarooqDays: dayOfRank(sorted, plants / 2),
  };
}

/** Day on which the running total passes `rank`, straight between counting days. */
function dayOfRank(sorted: readonly DailyEmergence[], rank: number): number {
  let before = 0;
  let dayBefore = sorted[0]!.day;
  for (const count of sorted) {
    const after = before + count.newPlants;
    if (after >= rank && count.newPlants > 0) {
      if (before === 0) return count.day;
      return dayBefore + ((rank - before) / count.newPlants) * (count.day - dayBefore);
    }
    before = after;
    dayBefore = count.day;
  }
  return dayBefore;
}
