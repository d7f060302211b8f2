/** What replanting costs and gives back, in one currency per one area (which one is the caller's; never mixed). */
export interface ReplantCosts {
  readonly seed: number;
  readonly planting: number;
  /** Killing the old stand. */
  readonly termination: number;
  /** Herbicide, fertilizer and labour beyond what keeping would need. */
  readonly extraInputs: number;
  /** Later harvest: drying, splits, a second pass. */
  readonly drying: number;
  /** Seed-company or insurance money that replanting brings in, 0 or more. */
  readonly credit: number;
}

/** Sum of the parts less the credit. Iowa State University 2006: 10 + 10 + 30 = 50. */
export function totalReplantCost(costs: ReplantCosts): number {
  return costs.seed + costs.planting + costs.termination + costs.extraInputs + costs.drying - costs.credit;
}
