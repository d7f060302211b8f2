import type { DecisionFacts, Phrasing } from './decisionFacts.ts';
import { STAND_FLOORS } from './standRules.ts';
import type { Verdict } from './verdict.ts';

/** What would turn the verdict, in numbers where there are any. */
export function wouldChange(verdict: Verdict, facts: DecisionFacts, phrasing: Phrasing): readonly string[] {
  const floor = phrasing.plants(STAND_FLOORS[facts.habit].shareOfTarget * facts.targetPerM2);
  const breakEven = facts.money?.breakEvenPerM2 ?? null;
  const money = facts.money === null ? ['price, yield and costs: none were entered, so money has no say'] : [];
  switch (verdict.kind) {
    case 'keep':
      return [
        breakEven === null
          ? `a recount surely below ${floor}`
          : `a recount near ${phrasing.plants(breakEven)}, where keeping and replanting come out the same`,
        'plants that die after today: look again in a week',
        ...money,
      ];
    case 'wait':
      return [
        `at the recount: ${floor} or more means keep, surely less means cost a replant`,
        facts.holds.length > 0
          ? 'warm growing days speed the new shoots, cold ones delay them'
          : 'a hard crust or rot in the bare row: dig again before the recount',
      ];
    case 'cost replant':
      return [
        ...(facts.money?.breakEvenDay == null || facts.money.breakEvenDay >= facts.lastReplant.day
          ? []
          : [`a replanting later than ${phrasing.day(facts.money.breakEvenDay)} no longer pays`]),
        `no replanting after ${phrasing.day(facts.lastReplant.day)}`,
        'seed, planter or adjuster not there in time',
        ...money,
      ];
    case 'too few spots':
      return [`more spots: an interval wholly above ${floor} means keep, wholly below it cost a replant`, ...money];
  }
}
