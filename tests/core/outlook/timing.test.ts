import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays, daysBetween, dayToMs, formatDay } from '../../../src/core/outlook/calendar.ts';
import {
  ANDEAN,
  HARRINGTON_MINGES,
  HARRINGTON_MINGES_DAYS,
  MESOAMERICAN,
  SOYBEAN_GDD_F,
} from '../../../src/core/outlook/cardinalModels.ts';
import { dailyProgress, daysToEmergence, developmentRate } from '../../../src/core/outlook/dailyProgress.ts';
import { stillToCome } from '../../../src/core/outlook/digCheck.ts';
import type { OutlookInput } from '../../../src/core/outlook/emergenceOutlook.ts';
import { emergenceOutlook } from '../../../src/core/outlook/emergenceOutlook.ts';
import { growingDegreesClampedEach } from '../../../src/core/outlook/growingDegreeDays.ts';

describe('growing degrees', () => {
  // McMaster and Wilhelm 1997, Agric. For. Meteorol. 87:291-300, conventions; base 50 F, cap 86 F.
  it.each([
    [80, 44, 15],
    [95, 70, 28],
    [58, 40, 4],
  ])('%d/%d F is %d, each extreme clamped', (max, min, clamped) => {
    expect(growingDegreesClampedEach({ max, min, base: 50, cap: 86 })).toBe(clamped);
  });

  // MSU Extension after Conley & Gaska (Wisconsin) and Casteel (Purdue): soybean at 10 growing degrees a day.
  it('soybean in soil at 60 F: half up on day 13, nine tenths on day 15.5; Purdue 14.1 and 20', () => {
    const perDay = growingDegreesClampedEach({ max: 60, min: 60, base: SOYBEAN_GDD_F.baseF, cap: SOYBEAN_GDD_F.capF });
    expect(SOYBEAN_GDD_F.wisconsin.half / perDay).toBe(13);
    expect(SOYBEAN_GDD_F.wisconsin.nineTenths / perDay).toBe(15.5);
    expect(SOYBEAN_GDD_F.purdue.half / perDay).toBeCloseTo(14.1, 10);
    expect(SOYBEAN_GDD_F.purdue.nineTenths / perDay).toBe(20);
  });
});

describe('daysToEmergence', () => {
  // CROPGRO dry bean BNGRO048: base 5 C, optimum 27 C, 2.4 and 3.4 thermal days; days are arithmetic on them.
  it.each([
    [15, 5.28, 7.48],
    [20, 3.52, 4.99],
    [25, 2.64, 3.74],
    [30, 2.4, 3.4],
  ])('at %d C: Mesoamerican %d, Andean %d days (a lower bound)', (celsius, small, large) => {
    expect(daysToEmergence(celsius, MESOAMERICAN)).toBeCloseTo(small, 2);
    expect(daysToEmergence(celsius, ANDEAN)).toBeCloseTo(large, 2);
  });

  it('at 40 C the rate is 0.625, outside the cardinal temperatures nothing comes', () => {
    expect(developmentRate(40, MESOAMERICAN.temperatures)).toBeCloseTo(0.625, 12);
    expect(daysToEmergence(4, MESOAMERICAN)).toBeNull();
    expect(daysToEmergence(46, MESOAMERICAN)).toBeNull();
  });

  // Harrington and Minges 1954 by way of Knott's Handbook: 16, 11, 8, 6 days at 15, 20, 25, 30 C (59 to 86 F).
  it('Harrington and Minges: base and sum are the least-squares line of 1/days', () => {
    const n = HARRINGTON_MINGES_DAYS.length;
    const xs = HARRINGTON_MINGES_DAYS.map((row) => row.celsius);
    const ys = HARRINGTON_MINGES_DAYS.map((row) => 1 / row.days);
    const mx = xs.reduce((s, x) => s + x, 0) / n;
    const my = ys.reduce((s, y) => s + y, 0) / n;
    const slope = xs.reduce((s, x, i) => s + (x - mx) * (ys[i]! - my), 0) / xs.reduce((s, x) => s + (x - mx) ** 2, 0);
    expect(HARRINGTON_MINGES.temperatures.baseC).toBeCloseTo(mx - my / slope, 3);
    expect(HARRINGTON_MINGES.thermalSumCd).toBeCloseTo(1 / slope, 2);
    expect(HARRINGTON_MINGES.temperatures.baseC).toBeCloseTo(6.448, 3);
    expect(HARRINGTON_MINGES.thermalSumCd).toBeCloseTo(144.26, 2);
    for (const row of HARRINGTON_MINGES_DAYS) {
      // Whole days in the table; the line misses none of them by a day and a half.
      expect(Math.abs(daysToEmergence(row.celsius, HARRINGTON_MINGES)! - row.days)).toBeLessThan(1.5);
    }
  });

  it('nothing comes at 10 C by the rate that the table calls "none", or at 40 C', () => {
    expect(daysToEmergence(40, HARRINGTON_MINGES)).toBeNull();
    expect(daysToEmergence(6, HARRINGTON_MINGES)).toBeNull();
  });

  it('a swinging day adds what its hours add', () => {
    // Wholly between base and optimum the rate is straight, so the swing cancels.
    expect(dailyProgress({ minC: 12, maxC: 24 }, MESOAMERICAN)).toBeCloseTo(
      dailyProgress({ minC: 18, maxC: 18 }, MESOAMERICAN),
      10,
    );
    // Across the base it does not: warm hours count, cold hours take nothing back.
    expect(dailyProgress({ minC: -5, maxC: 15 }, MESOAMERICAN)).toBeGreaterThan(
      dailyProgress({ minC: 5, maxC: 5 }, MESOAMERICAN),
    );
  });
});

describe('calendar', () => {
  it('knows real days and counts across months', () => {
    expect(dayToMs('2026-02-30')).toBeNull();
    expect(addDays('2026-06-28', 5)).toBe('2026-07-03');
    expect(daysBetween('2026-02-27', '2026-03-02')).toBe(3);
    expect(formatDay('2026-06-05')).toBe('5 June');
    expect(() => addDays('June', 1)).toThrow(RangeError);
  });
});

describe('stillToCome', () => {
  const none = { sprouting: 0, hard: 0, rotted: 0, eaten: 0, notFound: 0 };

  it('says nothing of no seed, and little of dead seed', () => {
    expect(stillToCome(none, null, null)).toBeNull();
    const dead = stillToCome({ ...none, rotted: 30, eaten: 10 }, 'none', true)!;
    expect(dead.middle).toBe(0);
    expect(dead.low).toBe(0);
    expect(dead.high).toBeLessThan(0.12);
  });

  it('more living seed brings more, a crust less, and more digging narrows it', () => {
    const some = { ...none, sprouting: 10, rotted: 10 };
    const made = stillToCome(some, 'none', null)!;
    expect(stillToCome({ ...some, sprouting: 20 }, 'none', null)!.middle).toBeGreaterThan(made.middle);
    expect(stillToCome(some, 'hard', null)!.middle).toBeLessThan(stillToCome(some, 'soft', null)!.middle);
    const more = stillToCome({ ...none, sprouting: 100, rotted: 100 }, 'none', null)!;
    expect(more.middle).toBeCloseTo(made.middle, 10);
    expect(more.high - more.low).toBeLessThan(made.high - made.low);
  });

  it('its middle lies inside its range', () => {
    const count = fc.integer({ min: 0, max: 60 });
    fc.assert(
      fc.property(
        count,
        count,
        count,
        fc.constantFrom('none', 'soft', 'hard' as const),
        (sprouting, hard, rotted, crust) => {
          const made = stillToCome({ ...none, sprouting, hard, rotted }, crust as 'none', null);
          if (made === null) return;
          expect(made.low).toBeLessThanOrEqual(made.middle);
          expect(made.middle).toBeLessThanOrEqual(made.high);
        },
      ),
    );
  });
});

describe('emergenceOutlook', () => {
  // Three 10 ft counts of two spots after a fair earlier one gave a curve that is nine tenths up in no calendar's year.
  it('gives a day to recount for any earlier counts, falling ones too', () => {
    const perM2 = fc.double({ min: 0, max: 40, noNaN: true });
    const earlier = fc.array(fc.record({ after: fc.integer({ min: 1, max: 20 }), perM2 }), { maxLength: 4 });
    fc.assert(
      fc.property(perM2, earlier, fc.option(perM2, { nil: null }), (standPerM2, counts, seedDropPerM2) => {
        const { recountBy } = emergenceOutlook({
          plantedOn: '2026-05-20',
          visitOn: '2026-06-10',
          seed: 'medium',
          temperatures: [],
          seedDropPerM2,
          standPerM2,
          earlier: counts.map((count) => ({ day: addDays('2026-05-20', count.after), perM2: count.perM2 })),
          dig: null,
          crust: null,
          rainExpected: null,
        });
        expect(recountBy >= '2026-06-13' && recountBy <= '2026-06-20').toBe(true);
      }),
      { numRuns: 300, seed: 20261125 },
    );
  });

  const input: OutlookInput = {
    plantedOn: '2026-05-26',
    visitOn: '2026-06-10',
    seed: 'small',
    temperatures: [],
    seedDropPerM2: 38,
    standPerM2: 17,
    earlier: [],
    dig: null,
    crust: null,
    rainExpected: null,
  };

  it('says that temperatures were assumed when none were entered', () => {
    const made = emergenceOutlook(input);
    expect(made.basis).toBe('days since planting');
    expect(made.flags.join()).toContain('assumed');
  });

  it('cold soil leaves more to come than warm soil', () => {
    const at = (celsius: number) =>
      emergenceOutlook({
        ...input,
        temperatures: [{ day: '2026-05-26', minC: celsius, maxC: celsius, medium: 'soil' }],
      });
    expect(at(12).toComePerM2.middle).toBeGreaterThan(at(22).toComePerM2.middle);
    expect(at(22).stillComing).toBe(false);
  });

  it('never promises more than the seed dropped, and the range holds its middle', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 40, noNaN: true }),
        fc.integer({ min: 0, max: 40 }),
        fc.double({ min: 2, max: 30, noNaN: true }),
        (standPerM2, age, celsius) => {
          const made = emergenceOutlook({
            ...input,
            standPerM2,
            visitOn: addDays(input.plantedOn, age),
            temperatures: [{ day: '2026-05-26', minC: celsius, maxC: celsius, medium: 'soil' }],
          });
          expect(made.finalPerM2.high).toBeLessThanOrEqual(Math.max(standPerM2, 38) + 1e-9);
          expect(made.finalPerM2.low).toBeLessThanOrEqual(made.finalPerM2.middle + 1e-9);
          expect(made.finalPerM2.middle).toBeLessThanOrEqual(made.finalPerM2.high + 1e-9);
          expect(made.finalPerM2.low).toBeGreaterThanOrEqual(standPerM2 - 1e-9);
          expect(daysBetween(addDays(input.plantedOn, age), made.recountBy)).toBeGreaterThanOrEqual(3);
        },
      ),
    );
  });

  it('the dig check leads; a curve leads when there is none', () => {
    const dig = { sprouting: 24, hard: 8, rotted: 4, eaten: 1, notFound: 3 };
    expect(emergenceOutlook({ ...input, dig }).basis).toBe('dig check');
    const earlier = ['2026-06-03', '2026-06-05', '2026-06-07', '2026-06-08'].map((day, i) => ({
      day,
      perM2: [3, 8, 13, 15][i]!,
    }));
    expect(emergenceOutlook({ ...input, earlier }).basis).toBe('emergence curve');
  });
});
