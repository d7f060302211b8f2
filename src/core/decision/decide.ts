import type { Source } from '../sources/source.ts';
import { COMMON_PRACTICE } from '../sources/source.ts';
import type { DecisionFacts, Phrasing, StandBand, ZoneFacts } from './decisionFacts.ts';
import { reasonsFor } from './reasons.ts';
import { STAND_FLOORS } from './standRules.ts';
import { FLOOR_CONFIDENCE, LEAST_PATCH, MONEY_ODDS, NEAR_THE_FLOOR } from './thresholds.ts';
import type { Decision, Verdict } from './verdict.ts';
import { wouldChange } from './wouldChange.ts';

interface Choice {
  readonly verdict: Verdict;
  readonly because: string;
  readonly source: Source;
}

/**
 * Keep, wait, cost out a replant, or too few spots: rules in the order in which they bind. What cannot be judged yet
 * comes first, then a stand safely above its floor, then plants still to come, then poor zones, then money.
 */
export function decide(facts: DecisionFacts, phrasing: Phrasing): Decision {
  const choice = choose(facts);
  return {
    ...choice,
    reasons: reasonsFor(choice.verdict, facts, phrasing).slice(0, 3),
    wouldChange: wouldChange(choice.verdict, facts, phrasing),
  };
}

function choose(facts: DecisionFacts): Choice {
  const { stand } = facts;
  const floor = STAND_FLOORS[facts.habit];
  const floorPerM2 = floor.shareOfTarget * facts.targetPerM2;

  if (stand === null) {
    return tooFew(facts, 'nothing usable was counted', COMMON_PRACTICE);
  }

  // Hurt plants that cannot be judged yet make every later number a guess.
  const hold = [...facts.holds].sort((a, b) => (a.until < b.until ? 1 : -1))[0];
  if (hold !== undefined && hold.until > facts.visitOn) {
    return { verdict: { kind: 'wait', recountBy: hold.until }, because: hold.says, source: hold.source };
  }

  if (stand.lowerBound === null && stand.upperBound === null) {
    return tooFew(facts, 'the spots show no spread to judge by', FLOOR_CONFIDENCE.source);
  }

  const place = placeOf(stand, floorPerM2);
  const poor = facts.zones.filter(
    (zone) => zone.areaM2 >= LEAST_PATCH.areaM2 && zone.stand !== null && placeOf(zone.stand, floorPerM2) === 'below',
  );
  if (place === 'above' && poor.length === 0) {
    return keep('the stand is above its floor with 95 % confidence', floor.source);
  }

  const { outlook } = facts;
  if (
    outlook?.stillComing === true &&
    outlook.finalPerM2.high >= floorPerM2 &&
    outlook.recountBy <= facts.lastReplant.day
  ) {
    return { verdict: { kind: 'wait', recountBy: outlook.recountBy }, because: outlook.says, source: outlook.source };
  }

  if (facts.visitOn > facts.lastReplant.day) {
    return keep('it is past the last day to replant beans here', facts.lastReplant.source);
  }

  if (poor.length > 0 && poor.length < facts.zones.length) return zonesOrKeep(poor, facts, place);

  if (place === 'unclear') return unclear(facts, stand, floorPerM2);
  return wholeOrKeep(facts);
}

type Place = 'above' | 'below' | 'unclear';

/** Where a stand lies against a floor, by its one-sided 95 % bounds. */
function placeOf(stand: StandBand, floorPerM2: number): Place {
  if (stand.lowerBound !== null && stand.lowerBound > floorPerM2) return 'above';
  if (stand.upperBound !== null && stand.upperBound < floorPerM2) return 'below';
  return 'unclear';
}

function unclear(facts: DecisionFacts, stand: StandBand, floorPerM2: number): Choice {
  const odds = facts.money?.risk.probabilityPays;
  if (odds !== undefined && odds < MONEY_ODDS.surelyNotBelow) {
    return keep('replanting would not pay anywhere in the interval', MONEY_ODDS.source);
  }
  if (facts.doubt !== null && facts.doubt.until <= facts.lastReplant.day) {
    return {
      verdict: { kind: 'wait', recountBy: facts.doubt.until },
      because: facts.doubt.says,
      source: facts.doubt.source,
    };
  }
  if (facts.moreSpots > 0) {
    return tooFew(facts, 'the interval reaches across the floor', STAND_FLOORS[facts.habit].source);
  }
  if (stand.perM2 >= floorPerM2)
    return keep('too near the floor for spots to settle, and above it', NEAR_THE_FLOOR.source);
  return wholeOrKeep(facts);
}

function wholeOrKeep(facts: DecisionFacts): Choice {
  if (facts.money === null) {
    return {
      verdict: { kind: 'cost replant', scope: 'whole field' },
      because: 'the stand is below its floor',
      source: STAND_FLOORS[facts.habit].source,
    };
  }
  if (facts.money.risk.probabilityPays >= MONEY_ODDS.replantFrom) {
    return {
      verdict: { kind: 'cost replant', scope: 'whole field' },
      because: 'the stand is below its floor and replanting is likelier to pay than not',
      source: MONEY_ODDS.source,
    };
  }
  return keep('the stand is thin, but replanting is likelier to lose money', MONEY_ODDS.source);
}

function zonesOrKeep(poor: readonly ZoneFacts[], facts: DecisionFacts, place: Place): Choice {
  const worth = poor.filter((zone) => zone.money === null || zone.money.risk.probabilityPays >= MONEY_ODDS.replantFrom);
  if (worth.length > 0) {
    return {
      verdict: { kind: 'cost replant', scope: 'zones', zones: worth.map((zone) => zone.name) },
      because: 'these zones are below the floor, the rest is not',
      source: STAND_FLOORS[facts.habit].source,
    };
  }
  if (place === 'below') return wholeOrKeep(facts);
  return keep('some zones are thin, but replanting them is likelier to lose money', MONEY_ODDS.source);
}

function keep(because: string, source: Source): Choice {
  return { verdict: { kind: 'keep' }, because, source };
}

function tooFew(facts: DecisionFacts, because: string, source: Source): Choice {
  return { verdict: { kind: 'too few spots', moreSpots: facts.moreSpots }, because, source };
}
