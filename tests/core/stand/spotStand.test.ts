import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { spotStand } from '../../../src/core/stand/spotStand.ts';
import { countedAreaM2, type StandCount } from '../../../src/core/stand/standCount.ts';
import { METRES_PER_FOOT, METRES_PER_INCH } from '../../../src/core/units/conversions.ts';
import { fromPerSquareMetre } from '../../../src/core/units/density.ts';

const inches = (n: number) => n * METRES_PER_INCH;
const rows = (plants: readonly number[], lengthM: number, rowWidthM: number): StandCount => ({
  kind: 'rows',
  plants,
  lengthM,
  rowWidthM,
});
const hoop = (plants: number): StandCount => ({ kind: 'hoop', plants, insideDiameterM: inches(30) });

function stand(counts: readonly StandCount[]) {
  const found = spotStand(counts, 0.9);
  if (!found.ok) throw new Error(`${found.code}: ${found.found}`);
  return { ...found.value, perAcre: fromPerSquareMetre(found.value.perSquareMetre, 'perAcre') };
}

describe('plants at one spot to population', () => {
  it('90 plants in 34 ft 10 in of a 15 in row: 90,000/ac (OSU Extension Van Wert County, soybean replant decisions)', () => {
    const { perAcre } = stand([rows([90], 34 * METRES_PER_FOOT + inches(10), inches(15))]);
    // the length is printed to the inch: 34.833 for 34.848 ft
    expect(Math.abs(perAcre / 90_000 - 1)).toBeLessThan(0.001);
  });

  it('150 plants over 94 ft of 30 in rows: 27,804/ac (a seed company stand guide)', () => {
    expect(Math.round(stand([rows([150], 94 * METRES_PER_FOOT, inches(30))]).perAcre)).toBe(27_804);
  });

  it('55 plants in 50 ft of 30 in rows: 19,166/ac (a seed company table prints 19 thousand)', () => {
    expect(stand([rows([55], 50 * METRES_PER_FOOT, inches(30))]).perAcre).toBeCloseTo(19_166, 0);
  });

  it('five 30 in hoops of 12, 14, 14, 12, 8: 106,488/ac (Purdue prints 106,536 with 3.14 for pi)', () => {
    const { perAcre, plants } = stand([12, 14, 14, 12, 8].map(hoop));
    expect(plants).toBe(60);
    expect(perAcre).toBeCloseTo(106_488, 0);
    expect(Math.abs(perAcre / 106_536 - 1)).toBeLessThan(0.001);
  });

  it('30 plants in a 3 x 3 ft square: 145,200/ac (definition; a printed 150,000 is rounded)', () => {
    const quadrat: StandCount = { kind: 'quadrat', plants: 30, widthM: 0.9144, lengthM: 0.9144 };
    expect(stand([quadrat]).perAcre).toBeCloseTo(145_200, 6);
  });

  it('several adjacent rows are one count over their common ground', () => {
    const together = stand([rows([20, 31, 24], 2, 0.5)]);
    expect(together.areaM2).toBeCloseTo(3, 12);
    expect(together.perSquareMetre).toBeCloseTo(25, 12);
    expect(stand([20, 31, 24].map((n) => rows([n], 2, 0.5))).perSquareMetre).toBeCloseTo(25, 12);
  });
});

describe('the doubt of one spot', () => {
  it('a hand count is exact as a count, and still tells little of the ground around it', () => {
    const { counting, chance, perSquareMetre } = stand([rows([75], 5.31, 0.762)]);
    expect(counting.low).toBe(perSquareMetre);
    expect(counting.high).toBe(perSquareMetre);
    expect(chance.low).toBeLessThan(perSquareMetre);
    expect(chance.high).toBeGreaterThan(perSquareMetre);
  });

  it('a photo carries its detection interval; two photos add in quadrature', () => {
    const photo: StandCount = { kind: 'photo', plants: 30, low: 27, high: 34, level: 0.9, lengthM: 3, rowWidthM: 0.5 };
    const one = stand([photo]);
    expect(one.counting).toMatchObject({ low: 18, level: 0.9 });
    expect(one.counting.high).toBeCloseTo(34 / 1.5, 12);
    const two = stand([photo, photo]);
    expect(two.counting.low).toBeCloseTo((60 - 3 * Math.SQRT2) / 3, 12);
    expect(two.counting.high - two.counting.low).toBeLessThan(one.counting.high - one.counting.low);
  });

  it('no plant at all: 0, with an upper end above 0 and a reason', () => {
    const found = stand([rows([0], 5, 0.5)]);
    expect(found.perSquareMetre).toBe(0);
    expect(found.chance.low).toBe(0);
    // ln 20 = 2.9957 plants is the exact upper end of 0 seen (Garwood 1936)
    expect(found.chance.high).toBeCloseTo(Math.log(20) / 2.5, 10);
    expect(found.reasons).toHaveLength(1);
  });
});

describe('properties', () => {
  const plants = fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 1, maxLength: 6 });
  const size = fc.double({ min: 0.1, max: 20, noNaN: true });

  it('order of rows never matters; more plants never lower the population', () => {
    fc.assert(
      fc.property(plants, size, size, fc.nat(5), (list, lengthM, widthM, at) => {
        const one = stand([rows(list, lengthM, widthM)]).perSquareMetre;
        expect(stand([rows([...list].reverse(), lengthM, widthM)]).perSquareMetre).toBe(one);
        const more = list.map((n, i) => (i === at % list.length ? n + 1 : n));
        expect(stand([rows(more, lengthM, widthM)]).perSquareMetre).toBeGreaterThan(one);
      }),
    );
  });

  it('a longer stretch or wider rows with the same plants is a thinner stand', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 90 }), size, size, (n, lengthM, widthM) => {
        const one = stand([rows([n], lengthM, widthM)]).perSquareMetre;
        expect(stand([rows([n], lengthM * 1.5, widthM)]).perSquareMetre).toBeLessThan(one);
        expect(stand([rows([n], lengthM, widthM * 2)]).perSquareMetre).toBeCloseTo(one / 2, 9);
      }),
    );
  });
});

describe('what cannot be counted', () => {
  it.each([
    ['no counts', [], 'no counts'],
    ['no rows', [rows([], 1, 1)], 'no rows'],
    ['a stretch of 0', [rows([5], 0, 0.5)], 'bad size'],
    ['no row width', [rows([5], 3, Number.NaN)], 'bad size'],
    ['half a plant', [rows([2.5], 3, 0.5)], 'bad count'],
    ['fewer than 0', [hoop(-1)], 'bad count'],
    [
      'bounds that miss the count',
      [{ kind: 'photo', plants: 9, low: 10, high: 12, level: 0.9, lengthM: 1, rowWidthM: 1 }] as const,
      'bad bounds',
    ],
  ] as const)('%s', (_, counts, code) => {
    const found = spotStand(counts, 0.9);
    expect(found).toMatchObject({ ok: false, code });
    if (!found.ok) expect(found.next.length).toBeGreaterThan(5);
  });

  it('says which size is wrong', () => {
    expect(countedAreaM2(rows([5], 3, 0))).toMatchObject({ found: 'a row width of 0 m' });
  });
});
