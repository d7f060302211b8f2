import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { breakEven } from '../../../src/core/decision/breakEven.ts';
import { totalReplantCost } from '../../../src/core/decision/replantCosts.ts';
import type { ReplantCase } from '../../../src/core/decision/replantEconomics.ts';
import {
  balanceAt,
  breakEvenReplantDay,
  breakEvenStandShare,
  middleBalance,
} from '../../../src/core/decision/replantEconomics.ts';
import { replantRisk } from '../../../src/core/decision/replantRisk.ts';

const NO_COSTS = { seed: 0, planting: 0, termination: 0, extraInputs: 0, drying: 0, credit: 0 };

/** A made-up case per acre: 2,400 lb at 0.30 a pound. */
const CASE: ReplantCase = {
  keepYieldShare: { low: 0.4, high: 0.6 },
  replantStandShare: { low: 0.85, high: 1 },
  habit: 'III',
  replantDay: '2026-06-10',
  localDateRule: null,
  fullYieldPerArea: 2400,
  price: 0.3,
  costs: { ...NO_COSTS, seed: 60, planting: 20, termination: 15 },
};

/** Seeded draws for tests: mulberry32, public domain (Tommy Ettinger). */
function seeded(seed: number): () => number {
  let a = seed;
  return () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

describe('breakEven', () => {
  // LSU AgCenter (Deliberto): 377.51 $/ac, 11 $/bu, 55 bu/ac give 34.32 bu and 6.86 $.
  it('gives the printed break-even yield and price', () => {
    const printed = breakEven(377.51, 11, 55);
    expect(printed.ok && printed.value.yield).toBeCloseTo(34.32, 2);
    expect(printed.ok && printed.value.price).toBeCloseTo(6.86, 2);
  });

  // Same source: replant cost 4.76 + 42.00 = 46.76, total 424.27; the rest is arithmetic on it.
  it('adds the replant cost', () => {
    const cost = totalReplantCost({ ...NO_COSTS, planting: 4.76, seed: 42 });
    expect(cost).toBeCloseTo(46.76, 10);
    expect(377.51 + cost).toBeCloseTo(424.27, 10);
    const after = breakEven(377.51 + cost, 11, 55);
    expect(after.ok && after.value.yield).toBeCloseTo(38.57, 2);
    expect(after.ok && after.value.price).toBeCloseTo(7.71, 2);
    const added = breakEven(cost, 11, 55);
    expect(added.ok && added.value.yield).toBeCloseTo(4.25, 2);
  });

  it('refuses a price or a yield of nothing', () => {
    expect(breakEven(100, 0, 55)).toMatchObject({ ok: false, code: 'no price' });
    expect(breakEven(100, 11, 0)).toMatchObject({ ok: false, code: 'no yield' });
  });
});

describe('totalReplantCost', () => {
  // Iowa State University Extension, 23 May 2006: destroy 10 + replant 10 + seed 30 = 50 $/ac.
  it('sums the parts and takes the credit off', () => {
    expect(totalReplantCost({ ...NO_COSTS, termination: 10, planting: 10, seed: 30 })).toBe(50);
    expect(totalReplantCost({ ...NO_COSTS, seed: 30, credit: 20 })).toBe(10);
  });
});

describe('replant balance', () => {
  // Penn State 2018, corn: 17,500 plants make 87 %, a replanting on 29 May 81 %: keep before any cost.
  it('keeps 87 % against 81 %', () => {
    expect(balanceAt(0.87, 0.81, { ...CASE, costs: NO_COSTS }).gainPerArea).toBeLessThan(0);
  });

  // Purdue guide: replant on 1 June at 94 % of a 60 bu goal is 56.4 bu. Illinois: 90 % of 60 bu is 54 bu.
  it('works in bushels as printed', () => {
    const of = { ...CASE, costs: NO_COSTS, fullYieldPerArea: 60, price: 1 };
    expect(balanceAt(0.9, 0.94, of)).toMatchObject({
      keepValuePerArea: expect.closeTo(54, 10),
      replantValuePerArea: expect.closeTo(56.4, 10),
    });
  });

  // Illinois Bulletin 5 Jun 2009, derived: 60 - 0.5 x 14 = 53 bu against 54 bu kept.
  it('a fortnight late no longer beats nine tenths', () => {
    const of = { ...CASE, costs: NO_COSTS, fullYieldPerArea: 60, price: 1 };
    expect(balanceAt(54 / 60, (60 - 0.5 * 14) / 60, of).gainPerArea).toBeCloseTo(-1, 10);
  });

  it('the break-even stand makes gain nothing, and dearer replanting lowers it', () => {
    const share = breakEvenStandShare(CASE)!;
    const dear = breakEvenStandShare({ ...CASE, costs: { ...CASE.costs, seed: 130 } })!;
    expect(dear).toBeLessThan(share);
    expect(breakEvenStandShare({ ...CASE, costs: { ...CASE.costs, seed: 1e6 } })).toBeNull();
  });

  it('the break-even day comes earlier when replanting costs more', () => {
    const early = breakEvenReplantDay({ ...CASE, costs: { ...CASE.costs, seed: 120 } }, '2026-07-20');
    const late = breakEvenReplantDay(CASE, '2026-07-20');
    expect(late).not.toBeNull();
    expect(early === null || early <= late!).toBe(true);
    expect(breakEvenReplantDay({ ...CASE, costs: { ...CASE.costs, seed: 1e6 } }, '2026-07-20')).toBeNull();
  });

  it('a dearer replanting never gains more', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 500, noNaN: true }),
        fc.double({ min: 0, max: 500, noNaN: true }),
        (a, b) => {
          const gain = (seed: number) => middleBalance({ ...CASE, costs: { ...CASE.costs, seed } }).gainPerArea;
          expect(gain(Math.max(a, b))).toBeLessThanOrEqual(gain(Math.min(a, b)) + 1e-9);
        },
      ),
    );
  });
});

describe('replantRisk', () => {
  it('is the same for the same seed and sure at both ends', () => {
    expect(replantRisk(CASE, seeded(7))).toEqual(replantRisk(CASE, seeded(7)));
    const never = replantRisk({ ...CASE, keepYieldShare: { low: 1, high: 1 } }, seeded(1));
    expect(never.probabilityPays).toBe(0);
    const always = replantRisk({ ...CASE, keepYieldShare: { low: 0, high: 0 } }, seeded(1));
    expect(always.probabilityPays).toBe(1);
  });

  it('its middle agrees with the balance of the middles', () => {
    const risk = replantRisk(CASE, seeded(3), 20_000);
    // The standard error of the middle of 20,000 draws of this spread (about 35 $) is below 0.4 $.
    expect(Math.abs(risk.gainPerArea.middle - middleBalance(CASE).gainPerArea)).toBeLessThan(2);
  });
});
