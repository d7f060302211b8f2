import { breakEven } from '../decision/breakEven.ts';
import type { MoneyFacts } from '../decision/decisionFacts.ts';
import type { ReplantCase } from '../decision/replantEconomics.ts';
import { breakEvenReplantDay, breakEvenStandShare, middleBalance } from '../decision/replantEconomics.ts';
import { replantRisk } from '../decision/replantRisk.ts';
import type { IsoDay } from '../outlook/calendar.ts';
import { addDays } from '../outlook/calendar.ts';
import { own, publishedWith } from '../sources/source.ts';
import { seededRandom } from '../statistics/seededRandom.ts';
import type { GrowthHabit } from '../targets/growthHabit.ts';
import { timesBand } from '../yield/band.ts';
import { dateFactor } from '../yield/dateFactor.ts';
import type { YieldPotential } from '../yield/yieldPotential.ts';
import { quantityIn } from './quantity.ts';
import type { VisitDocument } from './visitSchema.ts';

/** How full a new stand is expected to be. */
export const REPLANT_STAND = {
  share: { low: 0.85, high: 1 },
  source: publishedWith('85 to 97 % of good seed stands; sown to reach the target', 'saskPulse', 'msuPopulation2019'),
} as const;

/** Days from the visit to a replanting when no day was entered. */
export const DAYS_TO_REPLANT = {
  days: 5,
  source: own('seed, adjuster and planter take about a working week; enter the day'),
} as const;

/** The replanting day of a visit: entered, or some days after the visit. */
export function replantDay(visit: VisitDocument): IsoDay {
  return visit.economics?.replantOn ?? addDays(visit.visitedOn, DAYS_TO_REPLANT.days);
}

/** What keeping and replanting are worth; null without prices or without a yield band. Money per square metre. */
export function assessMoney(
  visit: VisitDocument,
  habit: GrowthHabit,
  keep: YieldPotential | null,
  targetPerM2: number,
  lastDay: IsoDay,
  seed: number,
): MoneyFacts | null {
  const money = visit.economics;
  if (money === undefined || keep === null) return null;
  const fullYieldPerArea = quantityIn(money.fullYield, 'yield') ?? 0;
  const price = quantityIn(money.price, 'price') ?? 0;
  if (!(fullYieldPerArea > 0) || !(price > 0)) return null;
  const cost = (text: string | undefined) => quantityIn(text, 'money per area') ?? 0;
  const local =
    money.noLossUntil === undefined
      ? null
      : { noLossUntil: money.noLossUntil, lossPerDay: quantityIn(money.lossPerDay, 'share') ?? 0 };
  const of: ReplantCase = {
    keepYieldShare: timesBand(keep.yieldShare, dateFactor(visit.planting.plantedOn, local).factor),
    replantStandShare: REPLANT_STAND.share,
    habit,
    replantDay: replantDay(visit),
    localDateRule: local,
    fullYieldPerArea,
    price,
    costs: {
      seed: cost(money.seed),
      planting: cost(money.planting),
      termination: cost(money.termination),
      extraInputs: cost(money.extraInputs),
      drying: cost(money.drying),
      credit: cost(money.credit),
    },
  };
  const share = breakEvenStandShare(of);
  const balance = middleBalance(of);
  const gainedYield = (balance.replantValuePerArea - balance.keepValuePerArea) / price;
  const pays = breakEven(balance.costPerArea, price, gainedYield);
  return {
    replantDay: of.replantDay,
    balance,
    risk: replantRisk(of, seededRandom(seed)),
    breakEvenPerM2: share === null ? null : share * targetPerM2,
    breakEvenDay: breakEvenReplantDay(of, lastDay),
    mustAdd: { yieldPerArea: balance.costPerArea / price, price: pays.ok ? pays.value.price : null },
  };
}
