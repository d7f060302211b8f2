import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { plainShares, seedPositionShares } from '../../../src/core/stand/plantingShares.ts';
import { countClasses, spacingClass } from '../../../src/core/stand/spacingClass.ts';
import { spacingPrecision } from '../../../src/core/stand/spacingPrecision.ts';
import { spacingStatistics, spacingsM } from '../../../src/core/stand/spacingStatistics.ts';
import { seededRandom } from '../../../src/core/statistics/seededRandom.ts';
import { METRES_PER_INCH } from '../../../src/core/units/conversions.ts';

/** Spacings in cm on and around the class ends, theoretical spacing 10 cm (constructed). */
const EDGES_M = [2, 5, 5.1, 9, 10, 10, 11, 12, 15, 15.1, 20, 25, 25.1, 36].map((cm) => cm / 100);
/** Readings along a tape in inches, theoretical spacing 3 in (constructed). */
const TAPE_M = [0, 3, 6, 6.5, 9.5, 12, 15.5, 21, 24, 27, 30, 30.5, 33, 39, 42, 45, 48.5, 51, 54, 60].map(
  (inch) => inch * METRES_PER_INCH,
);
const REF_IN_M = 3 * METRES_PER_INCH;

function must<T>(outcome: { ok: true; value: T } | { ok: false; code: string }): T {
  if (!outcome.ok) throw new Error(outcome.code);
  return outcome.value;
}

describe('classes of ISO 7256/1', () => {
  it.each([
    [0, 'I'],
    [0.5, 'I'],
    [0.5001, 'II'],
    [1.5, 'II'],
    [1.5001, 'III'],
    [2.5, 'III'],
    [2.5001, 'IV'],
    [3.5, 'IV'],
    [3.5001, 'V'],
  ] as const)(
    '%s of the theoretical spacing is class %s (Bracy & Parish, HortTechnology, quoting ISO 7256/1-1984)',
    (ratio, wanted) => {
      expect(spacingClass(ratio * 0.1, 0.1)).toBe(wanted);
    },
  );

  it('a spacing on an end on paper stays there in binary: 0.35 - 0.20 over 0.10, 0.3 - 0.25 over 0.1', () => {
    expect(0.35 - 0.2).not.toBe(0.15);
    expect(spacingClass(0.35 - 0.2, 0.1)).toBe('II');
    expect(spacingClass(0.3 - 0.25, 0.1)).toBe('I');
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 500 }), fc.integer({ min: 1, max: 40 }), (startHalfInches, halves) => {
        // plants on half inches: an even number of halves apart over its third is exactly 1.5
        const [a, b] = [startHalfInches, startHalfInches + 3 * halves].map((h) => (h / 2) * METRES_PER_INCH);
        expect(spacingClass(b! - a!, halves * METRES_PER_INCH)).toBe('II');
      }),
    );
  });

  it('refuses a theoretical spacing of 0', () => {
    expect(() => spacingClass(0.1, 0)).toThrow(RangeError);
  });
});

describe('both published forms', () => {
  it('spacings on the edges: classes 2, 7, 3, 1, 1; plain 14.286 / 50 / 35.714 %; positions 10 / 50 / 40 % (computed from the definitions of ISO 7256/1-1984)', () => {
    expect(countClasses(EDGES_M, 0.1)).toEqual({ I: 2, II: 7, III: 3, IV: 1, V: 1 });
    const plain = must(plainShares(EDGES_M, 0.1));
    expect(plain.form).toBe('plain shares of spacings');
    expect(plain.multiples * 100).toBeCloseTo(14.286, 3);
    expect(plain.feed * 100).toBeCloseTo(50, 10);
    expect(plain.misses * 100).toBeCloseTo(35.714, 3);
    const seeds = must(seedPositionShares(EDGES_M, 0.1));
    expect(seeds.form).toBe('ISO 7256/1 seed positions');
    expect(seeds.of).toBe(20);
    expect(seeds.multiples).toBeCloseTo(0.1, 12);
    expect(seeds.feed).toBeCloseTo(0.5, 12);
    expect(seeds.misses).toBeCloseTo(0.4, 12);
    expect(spacingPrecision(EDGES_M, 0.1)! * 100).toBeCloseTo(30.105, 3);
    const positionsM = [0];
    for (const s of EDGES_M) positionsM.push(positionsM.at(-1)! + s);
    const all = spacingStatistics(positionsM);
    expect(all.meanM! * 100).toBeCloseTo(14.3071, 4);
    expect(all.sdM! * 100).toBeCloseTo(9.36158, 5);
    expect(all.cv! * 100).toBeCloseTo(65.43, 2);
  });

  it('a tape of 20 plants: plain 10.526 / 73.684 / 15.789 %; positions 10 / 75 / 15 %; precision 10.262 %; mean 3.157895, SD 1.443882 in (computed from the definitions)', () => {
    const spacings = spacingsM(TAPE_M);
    const plain = must(plainShares(spacings, REF_IN_M));
    expect([plain.multiples, plain.feed, plain.misses].map((s) => (s * 100).toFixed(3))).toEqual([
      '10.526',
      '73.684',
      '15.789',
    ]);
    const seeds = must(seedPositionShares(spacings, REF_IN_M));
    expect(seeds.of).toBe(20);
    expect([seeds.multiples, seeds.feed, seeds.misses].map((s) => s.toFixed(4))).toEqual([
      '0.1000',
      '0.7500',
      '0.1500',
    ]);
    expect(spacingPrecision(spacings, REF_IN_M)! * 100).toBeCloseTo(10.262, 3);
    const { n, meanM, sdM } = spacingStatistics(TAPE_M);
    expect(n).toBe(19);
    expect(meanM! / METRES_PER_INCH).toBeCloseTo(3.157895, 6);
    expect(sdM! / METRES_PER_INCH).toBeCloseTo(1.443882, 6);
  });

  it('100 spacings, 8 misses, 5 multiples: 87 % quality of feed (public study notes on ISO 7256/1)', () => {
    const spacings = [...Array(8).fill(0.2), ...Array(5).fill(0.04), ...Array(87).fill(0.1)] as number[];
    const { multiples, misses, feed } = must(plainShares(spacings, 0.1));
    expect([multiples, misses, feed]).toEqual([0.05, 0.08, 0.87]);
  });

  it('spacings spread evenly over 0.5 to 1.5: precision 28.87 % (1/sqrt 12; the practical ceiling of 29 % is from memory)', () => {
    const n = 20_001;
    const spacings = Array.from({ length: n }, (_, i) => 0.1 * (0.5 + (i + 0.5) / n));
    expect(spacingPrecision(spacings, 0.1)! * 100).toBeCloseTo(28.87, 2);
  });

  it('refuses rows of mostly multiples in the seed-position form, and rows without a spacing in both', () => {
    expect(seedPositionShares([0.01, 0.01, 0.1], 0.1)).toMatchObject({ ok: false, code: 'mostly multiples' });
    expect(plainShares([], 0.1)).toMatchObject({ ok: false, code: 'no spacing' });
    expect(seedPositionShares([], 0.1)).toMatchObject({ ok: false, code: 'no spacing' });
    // two plants touching are one double: two seeds where none was meant beside the first
    expect(seedPositionShares([0.01, 0.1], 0.1)).toMatchObject({ ok: true, value: { multiples: 1, feed: 0 } });
  });
});

describe('properties of spacing', () => {
  const positions = fc.array(fc.double({ min: 0, max: 10, noNaN: true }), { minLength: 3, maxLength: 60 });

  it('order of plants, where the tape begins and which end it is read from do not matter', () => {
    fc.assert(
      fc.property(positions, fc.double({ min: -5, max: 5, noNaN: true }), (list, shift) => {
        const one = spacingStatistics(list);
        for (const other of [
          spacingStatistics([...list].reverse()),
          spacingStatistics(list.map((p) => p + shift)),
          spacingStatistics(list.map((p) => 10 - p)),
        ]) {
          expect(other.n).toBe(one.n);
          expect(other.meanM).toBeCloseTo(one.meanM!, 9);
          expect(other.sdM).toBeCloseTo(one.sdM!, 9);
        }
      }),
    );
  });

  it('scale: spacings and theoretical spacing in the same ratio give the same shares', () => {
    const random = seededRandom(3);
    const spacings = Array.from({ length: 200 }, () => 0.3 * random());
    const metric = must(plainShares(spacings, 0.1));
    const scaled = must(
      plainShares(
        spacings.map((s) => s * 7),
        0.7,
      ),
    );
    expect(scaled).toEqual(metric);
  });

  it('shares add up to 1 in both forms', () => {
    fc.assert(
      fc.property(positions, (list) => {
        for (const form of [plainShares, seedPositionShares]) {
          const found = form(spacingsM(list), 0.2);
          if (found.ok) expect(found.value.multiples + found.value.feed + found.value.misses).toBeCloseTo(1, 12);
        }
      }),
    );
  });

  it('none, one, two plants, plants on one place', () => {
    expect(spacingStatistics([])).toEqual({ n: 0, meanM: null, sdM: null, cv: null });
    expect(spacingStatistics([1])).toEqual({ n: 0, meanM: null, sdM: null, cv: null });
    expect(spacingStatistics([1, 1.5])).toEqual({ n: 1, meanM: 0.5, sdM: null, cv: null });
    expect(spacingStatistics([2, 2, 2])).toEqual({ n: 2, meanM: 0, sdM: 0, cv: null });
  });
});
