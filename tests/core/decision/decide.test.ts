import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cautions } from '../../../src/core/decision/cautions.ts';
import { decide } from '../../../src/core/decision/decide.ts';
import type { DecisionFacts, MoneyFacts, Phrasing } from '../../../src/core/decision/decisionFacts.ts';
import { readStandRules, STAND_FLOORS, STAND_RULES } from '../../../src/core/decision/standRules.ts';
import { COMMON_PRACTICE } from '../../../src/core/sources/source.ts';

const PHRASING: Phrasing = {
  plants: (perM2) => `${perM2.toFixed(1)}/m2`,
  plantsRange: (low, high) => `${low.toFixed(1)} to ${high.toFixed(1)}/m2`,
  money: (perM2) => `${perM2.toFixed(2)}/m2`,
  yields: (kgPerM2) => `${kgPerM2} kg/m2`,
  area: (m2) => `${m2} m2`,
  day: (day) => day,
};

const stand = (perM2: number, low: number | null, high: number | null) => ({
  perM2,
  low,
  high,
  lowerBound: low,
  upperBound: high,
});

/** Vining beans, target 20 plants/m2, so the floor is 10. */
const FACTS: DecisionFacts = {
  visitOn: '2026-06-15',
  stand: stand(18, 16, 20),
  spots: 6,
  targetPerM2: 20,
  habit: 'III',
  moreSpots: 0,
  doubt: null,
  holds: [],
  outlook: null,
  yieldShare: { low: 0.95, high: 1 },
  money: null,
  lastReplant: { day: '2026-07-05', source: COMMON_PRACTICE },
  zones: [],
  remarks: [],
};

const money = (probabilityPays: number): MoneyFacts => ({
  replantDay: '2026-06-20',
  balance: { keepValuePerArea: 100, replantValuePerArea: 150, costPerArea: 20, gainPerArea: 30 },
  risk: {
    probabilityPays,
    gainPerArea: { low: -10, middle: probabilityPays * 60 - 30, high: 60 },
    level: 0.9,
    draws: 4000,
    method: 'test',
  },
  breakEvenPerM2: 9,
  breakEvenDay: '2026-06-28',
  mustAdd: { yieldPerArea: 1, price: null },
});

const THIN = stand(5, 4, 6);

describe('decide', () => {
  it('keeps a stand safely above its floor', () => {
    expect(decide(FACTS, PHRASING).verdict).toEqual({ kind: 'keep' });
  });

  it('costs out a replant for a stand safely below, with and without money', () => {
    const whole = { kind: 'cost replant', scope: 'whole field' };
    expect(decide({ ...FACTS, stand: THIN }, PHRASING).verdict).toEqual(whole);
    expect(decide({ ...FACTS, stand: THIN, money: money(0.8) }, PHRASING).verdict).toEqual(whole);
  });

  it('keeps a thin stand when replanting is likelier to lose', () => {
    expect(decide({ ...FACTS, stand: THIN, money: money(0.3) }, PHRASING).verdict).toEqual({ kind: 'keep' });
  });

  it('waits while hurt plants cannot be judged, whatever the count', () => {
    const hold = { until: '2026-06-18', says: 'hail two days ago', source: COMMON_PRACTICE };
    expect(decide({ ...FACTS, stand: THIN, holds: [hold] }, PHRASING).verdict).toEqual({
      kind: 'wait',
      recountBy: '2026-06-18',
    });
    expect(decide({ ...FACTS, holds: [{ ...hold, until: '2026-06-10' }] }, PHRASING).verdict.kind).toBe('keep');
  });

  it('waits for plants still to come only when they can lift the stand over the floor', () => {
    const outlook = {
      stillComing: true,
      finalPerM2: { middle: 12, low: 7, high: 14 },
      recountBy: '2026-06-21',
      says: 'more to come',
      source: COMMON_PRACTICE,
    };
    expect(decide({ ...FACTS, stand: THIN, outlook }, PHRASING).verdict).toEqual({
      kind: 'wait',
      recountBy: '2026-06-21',
    });
    const hopeless = { ...outlook, finalPerM2: { middle: 7, low: 6, high: 8 } };
    expect(decide({ ...FACTS, stand: THIN, outlook: hopeless }, PHRASING).verdict.kind).toBe('cost replant');
    expect(decide({ ...FACTS, outlook }, PHRASING).verdict.kind).toBe('keep');
  });

  it('asks for more spots when the interval reaches across the floor, and says how many', () => {
    const wide = { ...FACTS, stand: stand(11, 6, 16), moreSpots: 4 };
    expect(decide(wide, PHRASING).verdict).toEqual({ kind: 'too few spots', moreSpots: 4 });
    expect(decide({ ...FACTS, stand: stand(11, null, null), moreSpots: 2 }, PHRASING).verdict.kind).toBe(
      'too few spots',
    );
    expect(decide({ ...FACTS, stand: null, moreSpots: 3 }, PHRASING).verdict.kind).toBe('too few spots');
  });

  it('looks at hurt plants again when they, not the spots, leave it open', () => {
    const doubt = { until: '2026-06-18', says: 'doubtful plants', source: COMMON_PRACTICE };
    const open = { ...FACTS, stand: stand(11, 6, 16), doubt };
    expect(decide(open, PHRASING).verdict).toEqual({ kind: 'wait', recountBy: '2026-06-18' });
  });

  it('does not ask for a hundred spots to place a stand that lies on its floor', () => {
    const near = { ...FACTS, stand: stand(10.2, 9.8, 10.6), moreSpots: 0 };
    expect(decide(near, PHRASING).verdict.kind).toBe('keep');
  });

  it('offers poor zones and leaves out a patch under an acre', () => {
    const zones = [
      { name: 'flat', areaM2: 200_000, stand: FACTS.stand, money: null },
      { name: 'knolls', areaM2: 20_000, stand: THIN, money: null },
      { name: 'pothole', areaM2: 2_000, stand: THIN, money: null },
    ];
    expect(decide({ ...FACTS, zones }, PHRASING).verdict).toEqual({
      kind: 'cost replant',
      scope: 'zones',
      zones: ['knolls'],
    });
    const poorest = zones.map((zone) => ({ ...zone, money: money(0.1) }));
    expect(decide({ ...FACTS, zones: poorest }, PHRASING).verdict.kind).toBe('keep');
  });

  it('never sends anybody to replant after the last day', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 30, noNaN: true }), (perM2) => {
        const late = { ...FACTS, visitOn: '2026-07-06', stand: stand(perM2, perM2 * 0.8, perM2 * 1.2) };
        expect(decide(late, PHRASING).verdict.kind).not.toBe('cost replant');
      }),
    );
  });

  it('more plants never turn keep into replant', () => {
    const rank = { 'cost replant': 0, 'too few spots': 1, wait: 1, keep: 2 } as const;
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 30, noNaN: true }),
        fc.double({ min: 0, max: 30, noNaN: true }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        (a, b, half) => {
          const at = (perM2: number) =>
            decide({ ...FACTS, stand: stand(perM2, perM2 - half, perM2 + half), moreSpots: 5 }, PHRASING);
          expect(rank[at(Math.max(a, b)).verdict.kind]).toBeGreaterThanOrEqual(rank[at(Math.min(a, b)).verdict.kind]);
        },
      ),
    );
  });

  it('gives at most three reasons, each with its source, and what would change it', () => {
    for (const facts of [FACTS, { ...FACTS, stand: THIN, money: money(0.9) }, { ...FACTS, stand: null }]) {
      const decision = decide(facts, PHRASING);
      expect(decision.reasons.length).toBeGreaterThan(0);
      expect(decision.reasons.length).toBeLessThanOrEqual(3);
      expect(decision.wouldChange.length).toBeGreaterThan(0);
    }
  });
});

describe('published stand rules', () => {
  // NDSU Crop & Pest Report 16 May 2002: navy 45,000 to 60,000 is 50 to 60 % of 90,000 to 100,000; pinto 28,000 to
  // 40,000 is 40 to 50 % of 70,000 to 80,000.
  it('plants and shares of the NDSU rule agree with its normal stands', () => {
    const [navy, pinto] = STAND_RULES;
    expect(navy!.plantsPerAcre!.low / navy!.shareOfFull.low).toBe(90_000);
    expect(navy!.plantsPerAcre!.high / navy!.shareOfFull.high).toBe(100_000);
    expect(pinto!.plantsPerAcre!.low / pinto!.shareOfFull.low).toBe(70_000);
    expect(pinto!.plantsPerAcre!.high / pinto!.shareOfFull.high).toBe(80_000);
  });

  // Ontario dry bean agronomy, soil crusting: two thirds to three quarters of a full stand.
  it('Ontario: 60,000 to 67,500 of 90,000 is the edge of adequate', () => {
    const ontario = STAND_RULES.find((rule) => rule.habit === null)!;
    expect(ontario.shareOfFull.low * 90_000).toBeCloseTo(60_000, 6);
    expect(ontario.shareOfFull.high * 90_000).toBeCloseTo(67_500, 6);
    expect(readStandRules(59_000 / 90_000, 'I').find((r) => r.rule === ontario)!.says).toBe('below');
    expect(readStandRules(70_000 / 90_000, 'I').find((r) => r.rule === ontario)!.says).toBe('above');
  });

  it('the two rules may disagree on one stand, and both are shown', () => {
    expect(readStandRules(0.55, 'III').map((r) => r.says)).toEqual(['above', 'below']);
  });

  it('no one floor serves all habits', () => {
    expect(STAND_FLOORS.I.shareOfTarget).toBeGreaterThan(STAND_FLOORS.III.shareOfTarget);
  });
});

describe('cautions', () => {
  const ids = (context: Parameters<typeof cautions>[0]) => cautions(context).map((c) => c.id);

  it('unknown insurance and spraying are treated as yes', () => {
    const unknown = {
      verdict: 'cost replant',
      insured: null,
      damaged: false,
      daysPastInsurance: null,
      sprayed: null,
      reentryHoursLeft: null,
    } as const;
    expect(ids(unknown)).toEqual(['re-entry', 'adjuster', 'label', 'old stand', 'agronomist first']);
  });

  it('an interval that still runs says to stay out, first', () => {
    const running = cautions({
      verdict: 'keep',
      insured: false,
      damaged: false,
      daysPastInsurance: null,
      sprayed: true,
      reentryHoursLeft: 5.2,
    });
    expect(running[0]!.says).toContain('6 h');
  });

  // Michigan Bean Shippers and Michigan Bean Commission, 28 Jun 2017: 1 % of cover a day after the final date.
  it('ten days past full cover is about 10 % less', () => {
    const late = {
      verdict: 'cost replant',
      insured: true,
      damaged: false,
      daysPastInsurance: 10,
      sprayed: false,
      reentryHoursLeft: null,
    } as const;
    expect(cautions(late)[0]!.says).toContain('about 10 % less');
  });

  it('damage on an insured stand goes to the insurer even while waiting', () => {
    const hailed = {
      verdict: 'wait',
      insured: null,
      damaged: true,
      daysPastInsurance: null,
      sprayed: false,
      reentryHoursLeft: null,
    } as const;
    expect(ids(hailed)).toEqual(['insurer', 'agronomist first']);
  });

  it('the agronomist always has the last line', () => {
    expect(
      ids({
        verdict: 'keep',
        insured: false,
        damaged: false,
        daysPastInsurance: null,
        sprayed: false,
        reentryHoursLeft: null,
      }),
    ).toEqual(['agronomist first']);
  });
});
