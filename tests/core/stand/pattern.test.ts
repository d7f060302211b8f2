import { describe, expect, it } from 'vitest';
import { countPieces, dispersion } from '../../../src/core/stand/dispersion.ts';
import { evenness } from '../../../src/core/stand/evenness.ts';
import { rowUnitPattern } from '../../../src/core/stand/rowUnitPattern.ts';
import { drawNegativeBinomial, drawPoisson } from '../../../src/core/statistics/draw.ts';
import { seededRandom } from '../../../src/core/statistics/seededRandom.ts';

function must<T>(outcome: { ok: true; value: T } | { ok: false; code: string }): T {
  if (!outcome.ok) throw new Error(outcome.code);
  return outcome.value;
}

/** Two-sided 5 % test over 2,000 seeded rows: the rate of false calls lies within 3.3 standard errors of 5 %. */
const FALSE_CALLS = 0.05 + 3.3 * Math.sqrt((0.05 * 0.95) / 2000);

describe('index of dispersion', () => {
  it('by hand: counts 2, 4, 6, 8 have mean 5, variance 6.667, index 1.333, chi-square 4 (definition)', () => {
    const found = must(dispersion([2, 4, 6, 8], 0.05));
    expect(found.index).toBeCloseTo(4 / 3, 12);
    expect(found.chiSquare).toBeCloseTo(4, 12);
    // upper tail of chi-square 4 on 3 degrees of freedom 0.26146 (SciPy), doubled
    expect(found.p).toBeCloseTo(2 * 0.2614641, 6);
    expect(found.pattern).toBe('random');
  });

  it('tells even, random and clumped rows apart', () => {
    expect(must(dispersion(Array(20).fill(5) as number[], 0.05)).pattern).toBe('even');
    expect(must(dispersion([0, 0, 0, 15, 0, 14, 0, 0, 1, 12], 0.05)).pattern).toBe('clumped');
  });

  it('calls a random row patterned in about 5 % of cases, and finds most clumped ones', () => {
    const random = seededRandom(11);
    let [falseCalls, found] = [0, 0];
    for (let i = 0; i < 2000; i++) {
      const poisson = Array.from({ length: 12 }, () => drawPoisson(6, random));
      const clumped = Array.from({ length: 12 }, () => drawNegativeBinomial(6, 2, random));
      if (must(dispersion(poisson, 0.05)).pattern !== 'random') falseCalls++;
      if (must(dispersion(clumped, 0.05)).pattern === 'clumped') found++;
    }
    expect(falseCalls / 2000).toBeLessThan(FALSE_CALLS);
    expect(found / 2000).toBeGreaterThan(0.8);
  });

  it('pieces of a row: a last short piece is left out, a plant on a border begins the next', () => {
    expect(countPieces([0, 0.2, 0.5, 0.99, 1.3, 2.2], 0, 2.3, 0.5)).toEqual([2, 2, 1, 0]);
    expect(countPieces([], 0, 0.4, 0.5)).toEqual([]);
  });

  it('says when it cannot tell', () => {
    expect(dispersion([3], 0.05)).toMatchObject({ ok: false, code: 'too few pieces' });
    expect(dispersion([0, 0, 0], 0.05)).toMatchObject({ ok: false, code: 'no plants' });
    expect(must(dispersion([0, 1, 0, 0], 0.05)).reasons).toHaveLength(1);
  });
});

describe('row-unit pattern', () => {
  /** Four passes of a six-row planter whose unit 2 drops a third of the rest; passes mirror at each turn. */
  const PASSES = `
    30 10 31 29 30 32
    31 30 28 32 11 29
    29  9 30 31 28 30
    30 31 29 30 10 32`
    .trim()
    .split(/\s+/)
    .map(Number);

  it('names the unit that repeats once the passes are folded the right way', () => {
    const found = must(rowUnitPattern(PASSES, 6, true, 0.05));
    expect(found.repeats).toBe(true);
    expect(found.poorUnits).toEqual([2]);
    expect(found.meanByUnit[1]).toBe(10);
  });

  it('folding the wrong way blurs it over units 2 and 5', () => {
    const wrong = must(rowUnitPattern(PASSES, 6, false, 0.05));
    expect(wrong.p).toBeGreaterThan(must(rowUnitPattern(PASSES, 6, true, 0.05)).p);
    expect(wrong.meanByUnit.map(Math.round)).toEqual([30, 20, 30, 31, 20, 31]);
  });

  it('finds nothing in like units, in about 5 % of seeded fields at most', () => {
    const random = seededRandom(12);
    let falseCalls = 0;
    for (let i = 0; i < 2000; i++) {
      const rows = Array.from({ length: 18 }, () => drawPoisson(25, random));
      if (must(rowUnitPattern(rows, 6, true, 0.05)).repeats) falseCalls++;
    }
    expect(falseCalls / 2000).toBeLessThan(FALSE_CALLS);
  });

  it('all rows alike, and units alike to the plant', () => {
    expect(must(rowUnitPattern(Array(12).fill(20) as number[], 6, true, 0.05))).toMatchObject({ f: 0, repeats: false });
    const exact = must(rowUnitPattern([20, 10, 20, 20, 10, 20], 3, false, 0.05));
    expect(exact).toMatchObject({ p: 0, repeats: true, poorUnits: [2] });
  });

  it('wants two planter widths', () => {
    expect(rowUnitPattern([1, 2, 3], 6, true, 0.05)).toMatchObject({ ok: false, code: 'too few rows' });
    expect(rowUnitPattern([1, 2, 3], 1, true, 0.05)).toMatchObject({ ok: false, code: 'row units' });
  });
});

describe('evenness over the field', () => {
  it('a field with one thin spot is uneven; the same counts everywhere are even', () => {
    const spot = (plants: number) => ({ plants, areaM2: 4 });
    expect(must(evenness([80, 76, 31, 79].map(spot), 0.05)).even).toBe(false);
    const same = must(evenness([75, 75, 75].map(spot), 0.05));
    expect(same).toMatchObject({ even: true, cv: 0, cvBeyondChance: 0 });
  });

  it('takes chance out: over many Poisson spots the CV beyond chance is near 0, over clumped ones near 1/sqrt k', () => {
    const random = seededRandom(13);
    const spots = (draw: () => number) => Array.from({ length: 3000 }, () => ({ plants: draw(), areaM2: 4 }));
    expect(
      must(
        evenness(
          spots(() => drawPoisson(60, random)),
          0.05,
        ),
      ).cvBeyondChance,
    ).toBeLessThan(0.03);
    const clumped = must(
      evenness(
        spots(() => drawNegativeBinomial(60, 16, random)),
        0.05,
      ),
    );
    expect(clumped.cvBeyondChance).toBeCloseTo(0.25, 1);
    expect(clumped.cv).toBeGreaterThan(clumped.cvBeyondChance);
  });

  it('says when it cannot tell', () => {
    expect(evenness([], 0.05)).toMatchObject({ ok: false, code: 'too few spots' });
    expect(
      evenness(
        [
          { plants: 0, areaM2: 1 },
          { plants: 0, areaM2: 1 },
        ],
        0.05,
      ),
    ).toMatchObject({ code: 'no plants' });
  });
});
