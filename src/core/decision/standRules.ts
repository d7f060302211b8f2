import type { Source } from '../sources/source.ts';
import { publishedWith } from '../sources/source.ts';
import type { GrowthHabit } from '../targets/growthHabit.ts';
import type { Band } from '../yield/band.ts';

/** A published least stand, as a share of a full one. */
export interface StandRule {
  readonly name: string;
  /** Null: said of all dry beans. */
  readonly habit: GrowthHabit | null;
  readonly shareOfFull: Band;
  readonly plantsPerAcre: Band | null;
  readonly source: Source;
}

/** The two published dry-bean rules disagree, so no one threshold holds for all; growth habit decides which leads. */
export const STAND_RULES: readonly StandRule[] = [
  {
    name: 'least stand of navy types before a major loss',
    habit: 'I',
    shareOfFull: { low: 0.5, high: 0.6 },
    plantsPerAcre: { low: 45_000, high: 60_000 },
    source: publishedWith('of 90,000 to 100,000 plants/ac', 'ndsuMinimumStands2002'),
  },
  {
    name: 'least stand of pinto types before a major loss',
    habit: 'III',
    shareOfFull: { low: 0.4, high: 0.5 },
    plantsPerAcre: { low: 28_000, high: 40_000 },
    source: publishedWith('of 70,000 to 80,000 plants/ac', 'ndsuMinimumStands2002'),
  },
  {
    name: 'adequate stand in Ontario',
    habit: null,
    shareOfFull: { low: 2 / 3, high: 0.75 },
    plantsPerAcre: null,
    source: publishedWith('beans branch and compensate poorly', 'ontarioBeans'),
  },
];

export interface StandFloor {
  /** Share of the target below which replanting is worth a look. */
  readonly shareOfTarget: number;
  readonly source: Source;
}

/**
 * The floor by growth habit: the cautious end of the rule that fits it. Where costs are entered, money decides and
 * the floor only says when to look.
 */
export const STAND_FLOORS: Readonly<Record<GrowthHabit, StandFloor>> = {
  I: { shareOfTarget: 2 / 3, source: publishedWith('low end of two thirds to three quarters', 'ontarioBeans') },
  II: { shareOfTarget: 0.6, source: publishedWith('navy, high end of 50 to 60 %', 'ndsuMinimumStands2002') },
  III: { shareOfTarget: 0.5, source: publishedWith('pinto, high end of 40 to 50 %', 'ndsuMinimumStands2002') },
};

export interface StandRuleReading {
  readonly rule: StandRule;
  readonly says: 'above' | 'within' | 'below';
}

/** What each published rule that fits the habit says of a stand: two rules may disagree, and both are shown. */
export function readStandRules(standShare: number, habit: GrowthHabit): readonly StandRuleReading[] {
  const fitting = STAND_RULES.filter((rule) => rule.habit === null || rule.habit === (habit === 'II' ? 'I' : habit));
  return fitting.map((rule) => ({
    rule,
    says: standShare < rule.shareOfFull.low ? 'below' : standShare > rule.shareOfFull.high ? 'above' : 'within',
  }));
}

/** `above the 40 to 50 % published as least stand of pinto types before a major loss`. */
export function sayStandRule({ rule, says }: StandRuleReading): string {
  const [low, high] = [rule.shareOfFull.low, rule.shareOfFull.high].map((share) => Math.round(share * 100));
  return `${says} the ${low} to ${high} % of a full stand published as ${rule.name}`;
}
