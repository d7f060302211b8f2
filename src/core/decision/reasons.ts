import type { DecisionFacts, Phrasing, ZoneFacts } from './decisionFacts.ts';
import { sayOdds } from './sayOdds.ts';
import { STAND_FLOORS } from './standRules.ts';
import { FLOOR_CONFIDENCE, MONEY_ODDS } from './thresholds.ts';
import type { Reason, Verdict } from './verdict.ts';

/** Every reason that can be given, the strongest for this verdict first. */
export function reasonsFor(verdict: Verdict, facts: DecisionFacts, phrasing: Phrasing): readonly Reason[] {
  const stand = standReason(facts, phrasing);
  const outlook: readonly Reason[] =
    facts.outlook === null ? [] : [{ says: facts.outlook.says, source: facts.outlook.source }];
  const holds: readonly Reason[] = facts.holds.map(({ says, source }) => ({ says, source }));
  const money = moneyReason(facts, phrasing);
  const yields = yieldReason(facts);
  const zones =
    verdict.kind === 'cost replant' && verdict.scope === 'zones' ? zoneReasons(verdict.zones, facts, phrasing) : [];
  switch (verdict.kind) {
    case 'wait':
      return [...holds, ...(facts.holds.length === 0 ? outlook : []), ...stand, ...yields, ...facts.remarks];
    case 'too few spots':
      return [...spotReason(facts), ...stand, ...facts.remarks, ...yields];
    case 'cost replant':
      return [...zones, ...stand, ...(zones.length > 0 ? [] : money), ...yields, ...facts.remarks, ...outlook];
    case 'keep':
      return [...stand, ...money, ...yields, ...facts.remarks, ...outlook];
  }
}

function standReason(facts: DecisionFacts, phrasing: Phrasing): readonly Reason[] {
  const { stand } = facts;
  if (stand === null) return [];
  const floor = STAND_FLOORS[facts.habit];
  const floorPerM2 = floor.shareOfTarget * facts.targetPerM2;
  const range =
    stand.low === null || stand.high === null
      ? 'no interval from one spot'
      : phrasing.plantsRange(stand.low, stand.high);
  const share = Math.round((stand.perM2 / facts.targetPerM2) * 100);
  return [
    {
      says: `${phrasing.plants(stand.perM2)} (${range}): ${share} % of the target; the floor is ${phrasing.plants(floorPerM2)}`,
      source: floor.source,
    },
  ];
}

function spotReason(facts: DecisionFacts): readonly Reason[] {
  const count = `${facts.spots} ${facts.spots === 1 ? 'spot' : 'spots'}`;
  return [{ says: `${count} cannot place the stand above or below its floor`, source: FLOOR_CONFIDENCE.source }];
}

function moneyReason(facts: DecisionFacts, phrasing: Phrasing): readonly Reason[] {
  if (facts.money === null) return [];
  const { risk } = facts.money;
  const gain = risk.gainPerArea.middle;
  const says =
    gain >= 0
      ? `replanting pays in ${sayOdds(risk.probabilityPays)}, ${phrasing.money(gain)} gained in the middle one`
      : `replanting pays in ${sayOdds(risk.probabilityPays)}, ${phrasing.money(-gain)} lost in the middle one`;
  return [{ says, source: MONEY_ODDS.source }];
}

function yieldReason(facts: DecisionFacts): readonly Reason[] {
  if (facts.yieldShare === null) return [];
  const [low, high] = [facts.yieldShare.low, facts.yieldShare.high].map((share) => Math.round(share * 100));
  return [
    {
      says:
        low === high
          ? `makes about ${low} % of a full stand's yield`
          : `makes ${low} to ${high} % of a full stand's yield`,
      source: {
        kind: 'published',
        in: ['westermann1977', 'ndsuMinimumStands2002'],
        note: 'band by growth habit, see the points',
      },
    },
  ];
}

function zoneMoney(zone: ZoneFacts, phrasing: Phrasing): string {
  if (zone.money === null) return '';
  const { probabilityPays, gainPerArea } = zone.money.risk;
  return `; replanting pays in ${sayOdds(probabilityPays)}, ${phrasing.money(gainPerArea.middle)} in the middle one`;
}

function zoneReasons(names: readonly string[], facts: DecisionFacts, phrasing: Phrasing): readonly Reason[] {
  const floor = STAND_FLOORS[facts.habit];
  return facts.zones
    .filter((zone) => names.includes(zone.name) && zone.stand !== null)
    .map((zone) => ({
      says: `${zone.name}, ${phrasing.area(zone.areaM2)}: ${phrasing.plants(zone.stand?.perM2 ?? 0)}, below the floor${zoneMoney(zone, phrasing)}`,
      source: floor.source,
    }));
}
