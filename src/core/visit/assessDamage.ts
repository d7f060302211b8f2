import { defoliationLoss } from '../damage/defoliation.ts';
import { frostRisk } from '../damage/frostRisk.ts';
import { judgePlant } from '../damage/growingPoint.ts';
import { parseVegetativeStage } from '../damage/growthStage.ts';
import type { GrowingPointTally } from '../damage/viableShare.ts';
import { viableShare } from '../damage/viableShare.ts';
import { canJudgeOn } from '../damage/waitRule.ts';
import type { Hold } from '../decision/decisionFacts.ts';
import type { IsoDay } from '../outlook/calendar.ts';
import { addDays, formatDay } from '../outlook/calendar.ts';
import { own } from '../sources/source.ts';
import type { DamageNumbers, StandNumbers } from './assessment.ts';
import { quantityIn } from './quantity.ts';
import type { VisitDamage, VisitDocument } from './visitSchema.ts';

/** What each recorded damage says by the day of the visit. */
export function assessDamage(visit: VisitDocument): readonly DamageNumbers[] {
  return (visit.damage ?? []).map((entry) => {
    const stage = entry.stage === undefined ? null : parseVegetativeStage(entry.stage.code, entry.stage.convention);
    const leafLost = quantityIn(entry.leafLost, 'share');
    const minimumC = quantityIn(entry.minimum, 'temperature');
    const flowering = /^R\d/i.test(entry.stage?.code.trim() ?? '');
    return {
      id: entry.id,
      hazard: entry.hazard,
      happenedOn: entry.happenedOn,
      zone: visit.zones?.find((zone) => zone.id === entry.zoneId)?.name ?? null,
      judgeable: canJudgeOn(entry.hazard, entry.happenedOn, visit.visitedOn),
      stage,
      viable: viableShare(tallyOf(entry)),
      defoliation: leafLost === null ? null : defoliationLoss(leafLost, flowering),
      frost: minimumC === null ? null : frostRisk(minimumC, entry.hoursBelowMinus2C ?? null),
    };
  });
}

/** Plants tallied by hand, and plants judged by the rules from what was seen on them. */
function tallyOf(entry: VisitDamage): GrowingPointTally {
  const states = { growing: 'growing', 'buds alive': 'budsAlive', doubtful: 'doubtful', dead: 'dead' } as const;
  const tally = { growing: 0, budsAlive: 0, doubtful: 0, dead: 0, ...entry.plants };
  for (const { number, cut, cotyledons, growingPoint, axillaryBuds, stem } of entry.seen ?? []) {
    const signs = { cut, cotyledons, growingPoint, axillaryBuds, stem };
    tally[states[judgePlant(signs).state]] += number;
  }
  return tally;
}

/** Damage that is too fresh to judge forbids a verdict until its day. */
export function damageHolds(damage: readonly DamageNumbers[]): readonly Hold[] {
  return damage
    .filter((entry) => !entry.judgeable.ready)
    .map((entry) => {
      const { leastDays, mostDays, source } = entry.judgeable.rule;
      return {
        until: entry.judgeable.by,
        says: `${entry.hazard} on ${formatDay(entry.happenedOn)}: wait ${leastDays} to ${mostDays} days of growing weather before judging (${source.kind === 'common practice' ? 'common practice' : 'published guides'})`,
        source,
      };
    });
}

/**
 * A stand less the plants that will not live, for damage on one zone (its name) or on the whole field (null). Shares of
 * several damages multiply; doubts of stand and shares add in quadrature.
 */
export function viableStand(
  stand: StandNumbers | null,
  damage: readonly DamageNumbers[],
  zone: string | null,
): StandNumbers | null {
  if (stand === null) return null;
  const shares = damage.flatMap((entry) =>
    entry.viable !== null && (entry.zone === null || entry.zone === zone) ? [entry.viable] : [],
  );
  if (shares.length === 0) return stand;
  const share = shares.reduce((product, s) => product * s.value, 1);
  const perM2 = stand.perM2 * share;
  const lows = shares.map((s) => s.low);
  const highs = shares.map((s) => s.high);
  // Relative distances from the middle, of the stand and of each share, in quadrature.
  const off = (edge: number | null, edges: readonly number[]) =>
    edge === null || stand.perM2 === 0
      ? null
      : perM2 *
        Math.hypot(
          edge / stand.perM2 - 1,
          ...shares.map((s, i) => (s.value > 0 ? edges[i]! / s.value - 1 : edges[i]!)),
        );
  const below = (edge: number | null) => {
    const down = off(edge, lows);
    return down === null ? null : Math.max(0, perM2 - down);
  };
  const above = (edge: number | null) => {
    const up = off(edge, highs);
    return up === null ? null : perM2 + up;
  };
  return {
    ...stand,
    perM2,
    low: below(stand.low),
    high: above(stand.high),
    lowerBound: below(stand.lowerBound),
    upperBound: above(stand.upperBound),
    method: `${stand.method}; less the plants that will not live (${shares.map((s) => s.method).join('; ')})`,
  };
}

const LOOK_AGAIN = {
  days: 3,
  source: own('doubtful plants show by then whether a bud grows; judge more of them too'),
} as const;

/** The spots place the stand against the floor, but what will live of it does not: a hold until the next look. */
export function damageDoubt(
  visitOn: IsoDay,
  counted: StandNumbers | null,
  viable: StandNumbers | null,
  damage: readonly DamageNumbers[],
  floorPerM2: number,
): Hold | null {
  const judged = damage.flatMap((entry) => (entry.viable === null ? [] : [entry.viable]));
  if (judged.length === 0 || counted === null || viable === null) return null;
  if (!placed(counted, floorPerM2) || placed(viable, floorPerM2)) return null;
  const plants = judged.reduce((sum, share) => sum + share.plants, 0);
  return {
    until: addDays(visitOn, LOOK_AGAIN.days),
    says: `the ${plants} plants judged leave it open which side of the floor the stand is on: look again, at more plants`,
    source: LOOK_AGAIN.source,
  };
}

function placed(stand: StandNumbers, floorPerM2: number): boolean {
  return (stand.lowerBound ?? 0) > floorPerM2 || (stand.upperBound ?? Number.POSITIVE_INFINITY) < floorPerM2;
}
