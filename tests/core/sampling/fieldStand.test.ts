import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FieldSpot, FieldZone } from '../../../src/core/sampling/fieldSpot.ts';
import { fieldStand } from '../../../src/core/sampling/fieldStand.ts';
import { chanceOfMissingPatch, spotsToFindPatch } from '../../../src/core/sampling/missedPatch.ts';
import { outlierSpots } from '../../../src/core/sampling/outlierSpots.ts';
import { tInterval, tIntervalFrom } from '../../../src/core/sampling/tInterval.ts';
import { hoopAreaM2 } from '../../../src/core/units/hoop.ts';
import { HEIGHTS } from '../statistics/certifiedSets.ts';

const spot = (plants: number, i: number, zoneId?: string): FieldSpot => ({
  id: `${i + 1}`,
  plants,
  areaM2: 4,
  ...(zoneId === undefined ? {} : { zoneId }),
});
const spots = (plants: readonly number[]) => plants.map((n, i) => spot(n, i));

function must(list: readonly FieldSpot[], level = 0.9, zones: readonly FieldZone[] = []) {
  const found = fieldStand(list, level, zones);
  if (!found.ok) throw new Error(`${found.code}: ${found.found}`);
  return found.value;
}
const width = (list: readonly FieldSpot[]) => {
  const { interval } = must(list);
  return interval!.high - interval!.low;
};

describe('t intervals against published ones', () => {
  it('195 values of mean 9.261460 and SD 0.02278881 (NIST/SEMATECH e-Handbook 1.3.5.2)', () => {
    for (const [level, low, high] of [
      [0.9, 9.258764, 9.264158],
      [0.95, 9.258242, 9.264679],
      [0.99, 9.257215, 9.265706],
    ] as const) {
      const found = tIntervalFrom(9.26146, 0.02278881 / Math.sqrt(195), 194, level);
      // mean, SD and limits are each rounded to 0.5e-6
      expect(Math.abs(found.low - low)).toBeLessThan(1.5e-6);
      expect(Math.abs(found.high - high)).toBeLessThan(1.5e-6);
    }
  });

  it('3 values of mean 37.8 and SD 0.964365 (the same handbook formula, worked in the Boost.Math examples)', () => {
    for (const [level, low, high] of [
      [0.9, 36.17422, 39.42578],
      [0.95, 35.40438, 40.19562],
      [0.99, 32.27408, 43.32592],
      [0.999, 20.20639, 55.39361],
    ] as const) {
      const found = tIntervalFrom(37.8, 0.964365 / Math.sqrt(3), 2, level);
      expect(found.low).toBeCloseTo(low, 4);
      expect(found.high).toBeCloseTo(high, 4);
    }
  });

  it('75 heights: 64.06 to 65.07 at 95 % (SAS/STAT UNIVARIATE Example 4.9)', () => {
    const found = tInterval(HEIGHTS, 0.95)!;
    expect(found.low).toBeCloseTo(64.06, 2);
    expect(found.high).toBeCloseTo(65.07, 2);
    expect(tInterval([1], 0.95)).toBeNull();
  });

  it('hoop counts 12, 14, 14, 12, 8: 12 +- 3.041443 at 95 %, 79,534 to 133,538/ac with the factor 8,878 of the Purdue guide (computed)', () => {
    const hoops = [12, 14, 14, 12, 8].map((plants, i) => ({ id: `${i}`, plants, areaM2: hoopAreaM2(30 * 0.0254) }));
    const { interval, sdBetween } = must(hoops, 0.95);
    const perHoop = hoopAreaM2(30 * 0.0254);
    expect(sdBetween! * perHoop).toBeCloseTo(2.44949, 5);
    expect(Math.round(interval!.low * perHoop * 8878)).toBe(79_534);
    expect(Math.round(interval!.high * perHoop * 8878)).toBe(133_538);
  });
});

describe('the field from its spots', () => {
  it('mean, interval and method of four spots', () => {
    const found = must(spots([72, 80, 64, 76]));
    expect(found.value).toBeCloseTo(18.25, 12);
    expect(found.n).toBe(4);
    expect(found.interval).toMatchObject({ level: 0.9, method: "Student's t on the mean, 3 degrees of freedom" });
    expect(found.cvBetween).toBeCloseTo(0.0936, 3);
  });

  it('one spot gives a value and no interval, and says why', () => {
    const found = must(spots([70]));
    expect(found).toMatchObject({ value: 17.5, n: 1, interval: null, sdBetween: null, holds: 'no interval' });
    expect(found.reasons).toContain('one spot says nothing of the rest of the field');
  });

  it('equal spots do not give certainty: the width is what chance gives', () => {
    const found = must(spots([75, 75, 75]));
    expect(found.interval!.high - found.interval!.low).toBeGreaterThan(0);
    expect(found.reasons).toContain('all spots alike: the interval is what chance alone gives');
  });

  it('no plant at any spot is no silent zero', () => {
    const found = must(spots([0, 0, 0]));
    expect(found.value).toBe(0);
    expect(found.interval).toMatchObject({ low: 0 });
    expect(found.interval!.high).toBeGreaterThan(0);
    expect(found.reasons).toContain('no plant was found at any spot');
  });

  it('says that few spots walk past a patch, until enough were counted or zones are marked', () => {
    const many = (n: number) => Array.from({ length: n }, (_, i) => spot(70 + (i % 5), i));
    expect(must(many(3)).holds).toBe('unless patchy');
    expect(must(many(3)).reasons.join()).toContain('51 times in 100');
    expect(must(many(11)).holds).toBe('as stated');
    const zoned = [spot(75, 0, 'hill'), spot(71, 1, 'hill'), spot(40, 2, 'low'), spot(44, 3, 'low')];
    expect(
      must(zoned, 0.9, [
        { id: 'hill', areaM2: 3 },
        { id: 'low', areaM2: 1 },
      ]).holds,
    ).toBe('as stated');
    expect(chanceOfMissingPatch(3, 0.2)).toBeCloseTo(0.512, 12);
    expect(spotsToFindPatch(0.2, 0.1)).toBe(11);
    expect(spotsToFindPatch(0.5, 0.25)).toBe(2);
  });

  it('says when the spots differ too much for one mean', () => {
    expect(must(spots([20, 90, 75, 30])).reasons.join()).toContain('the spots differ by 63 %: mark zones, or count');
    expect(must(spots([70, 90, 75, 60])).reasons.join()).not.toContain('differ');
  });

  it.each([
    ['no spots', [], 'no spots'],
    ['no ground', [{ id: 'a', plants: 5, areaM2: 0 }], 'bad spot'],
    ['fewer than 0 plants', [{ id: 'a', plants: -5, areaM2: 1 }], 'bad spot'],
  ] as const)('%s', (_, list, code) => {
    expect(fieldStand(list, 0.9)).toMatchObject({ ok: false, code });
  });

  it('refuses a level in percent', () => {
    expect(() => fieldStand(spots([1, 2]), 90)).toThrow(RangeError);
  });

  it('properties: order never matters; the same spots again narrow the interval; a plant more never lowers the stand', () => {
    const plants = fc.array(fc.integer({ min: 0, max: 150 }), { minLength: 2, maxLength: 12 });
    fc.assert(
      fc.property(plants, fc.nat(11), (list, at) => {
        const one = must(spots(list));
        const turned = must([...spots(list)].reverse());
        expect(turned.value).toBeCloseTo(one.value, 10);
        expect(turned.interval!.low).toBeCloseTo(one.interval!.low, 8);
        const twice = [...spots(list), ...spots(list)];
        if (one.interval!.low > 0) expect(width(twice)).toBeLessThan(width(spots(list)));
        const more = list.map((n, i) => (i === at % list.length ? n + 1 : n));
        expect(must(spots(more)).value).toBeGreaterThan(one.value);
        expect(one.interval!.low).toBeLessThanOrEqual(one.value);
        expect(one.interval!.high).toBeGreaterThanOrEqual(one.value);
      }),
    );
  });

  it('takes 10,000 spots', () => {
    const many = Array.from({ length: 10_000 }, (_, i) => spot(50 + ((i * 7919) % 51), i));
    const found = must(many);
    expect(found.n).toBe(10_000);
    expect(found.interval!.high - found.interval!.low).toBeLessThan(0.2);
  });
});

describe('zones weigh by their area', () => {
  const zones = [
    { id: 'knoll', areaM2: 2 },
    { id: 'rest', areaM2: 8 },
  ];
  const list = [spot(20, 0, 'knoll'), spot(24, 1, 'knoll'), spot(70, 2, 'rest'), spot(78, 3, 'rest')];

  it('by hand: 0.2 x 22 + 0.8 x 74 over 4 m2 (stratified mean, Cochran 1977)', () => {
    const found = must(list, 0.9, zones);
    expect(found.value).toBeCloseTo((0.2 * 22 + 0.8 * 74) / 4, 12);
    expect(found.degreesOfFreedom).toBe(2);
    expect(found.zones.map((z) => z.perSquareMetre)).toEqual([5.5, 18.5]);
    expect(found.interval!.method).toContain('2 zones');
  });

  it('more spots in a zone do not make the zone bigger', () => {
    const extra = [...list, spot(22, 4, 'knoll'), spot(22, 5, 'knoll')];
    expect(must(extra, 0.9, zones).value).toBeCloseTo(must(list, 0.9, zones).value, 12);
  });

  it('zones that differ narrow the interval of the whole', () => {
    expect(width(list)).toBeGreaterThan(must(list, 0.9, zones).interval!.high - must(list, 0.9, zones).interval!.low);
  });

  it('one spot in each zone: a mean, no interval; one zone with two spots lends its spread', () => {
    expect(must([list[0]!, list[2]!], 0.9, zones)).toMatchObject({ holds: 'no interval', interval: null });
    const lent = must(list.slice(1), 0.9, zones);
    expect(lent.degreesOfFreedom).toBe(1);
    expect(lent.reasons).toContain('zone "knoll" has one spot: its spread is taken from the other zones');
  });

  it('a zone without a plant still has doubt', () => {
    const bare = must([spot(0, 0, 'knoll'), spot(0, 1, 'knoll'), ...list.slice(2)], 0.9, zones);
    expect(bare.zones[0]!.standardError).toBeGreaterThan(0);
  });

  it('refuses spots without a zone, empty zones, zones without ground and double names', () => {
    expect(fieldStand([spot(1, 0)], 0.9, zones)).toMatchObject({ code: 'spot without zone' });
    expect(fieldStand([spot(1, 0, 'slope')], 0.9, zones)).toMatchObject({ code: 'spot without zone' });
    expect(fieldStand(list.slice(0, 2), 0.9, zones)).toMatchObject({ code: 'zone without spots' });
    expect(fieldStand(list, 0.9, [zones[0]!, { id: 'rest', areaM2: 0 }])).toMatchObject({ code: 'zones' });
    expect(fieldStand(list, 0.9, [zones[0]!, zones[0]!])).toMatchObject({ code: 'zones' });
  });
});

describe('odd spots', () => {
  it('flags a spot far from the others and keeps it in the mean', () => {
    const list = spots([75, 78, 72, 74, 12]);
    expect(outlierSpots(list)).toMatchObject([{ id: '5', side: 'low' }]);
    const found = must(list);
    expect(found.value).toBeCloseTo((75 + 78 + 72 + 74 + 12) / 5 / 4, 12);
    expect(found.reasons.join()).toContain('spot "5" is far low; kept');
  });

  it('leaves alone what chance can do, and lists too short to tell', () => {
    expect(outlierSpots(spots([75, 75, 75, 75, 78]))).toEqual([]);
    expect(outlierSpots(spots([75, 75, 5]))).toEqual([]);
    expect(outlierSpots(spots([0, 0, 0, 0, 0]))).toEqual([]);
    expect(outlierSpots(spots([0, 0, 0, 0, 3]))).toMatchObject([{ id: '5', score: null, side: 'high' }]);
  });
});
