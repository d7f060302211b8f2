import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findRowLine, type RowMark } from '../../../src/core/plants/findRowLine.ts';
import { rowEvidence } from '../../../src/core/plants/rowEvidence.ts';

const PRIOR = { acrossMm: 0, sdMm: 300, maxSlope: 0.08 };
const row = (acrossMm: number, slope: number, n = 15): RowMark[] =>
  Array.from({ length: n }, (_, k) => ({
    atMm: [100 + 130 * k, acrossMm + slope * (100 + 130 * k) + ((k * 7) % 5) * 4 - 8],
    weight: 1,
  }));
/** Scattered places, repeatable: thirds of a low-discrepancy sequence over 2 m by 0.8 m. */
const scattered = (n: number): RowMark[] =>
  Array.from({ length: n }, (_, k) => ({
    atMm: [((k * 0.7548776662) % 1) * 2000, ((k * 0.5698402909) % 1) * 800 - 400],
    weight: 1,
  }));

describe('findRowLine', () => {
  it('finds the offset and turn of a row among weeds', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -200, max: 200, noNaN: true }),
        fc.double({ min: -0.05, max: 0.05, noNaN: true }),
        (across, slope) => {
          const fit = findRowLine([...row(across, slope), ...scattered(6)], PRIOR)!;
          // 8 mm of jitter over 15 plants, six weeds pulling: 15 mm in the middle of the row
          expect(Math.abs(fit.acrossAtZeroMm + fit.slope * 1000 - across - slope * 1000)).toBeLessThan(15);
          expect(Math.abs(fit.slope - slope)).toBeLessThan(0.015);
          expect(fit.sdMm).toBeLessThan(25);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('answers for none and one, and takes the row nearer the reference of two equal ones', () => {
    expect(findRowLine([], PRIOR)).toBe(null);
    expect(findRowLine([{ atMm: [500, 40], weight: 1 }], PRIOR)).toMatchObject({
      acrossAtZeroMm: 40,
      slope: 0,
      share: 1,
    });
    const fit = findRowLine([...row(90, 0), ...row(-290, 0)], PRIOR)!;
    expect(Math.abs(fit.acrossAtZeroMm - 90)).toBeLessThan(10);
  });
});

describe('rowEvidence', () => {
  const evident = (marks: readonly RowMark[]): boolean => rowEvidence(marks, findRowLine(marks, PRIOR)!, 2000, 800);

  it('believes a row, alone or among as many weeds', () => {
    expect(evident(row(60, 0.01))).toBe(true);
    expect(evident([...row(60, 0.01), ...scattered(15)])).toBe(true);
  });

  it('does not believe scattered weeds, or two plants on two metres', () => {
    for (const n of [2, 6, 12, 25]) expect(evident(scattered(n))).toBe(false);
    expect(evident(row(60, 0, 2))).toBe(false);
    expect(evident(row(60, 0, 4))).toBe(true);
  });

  it('does not believe three specks that only roughly stand in line', () => {
    const three = (spreadMm: number): RowMark[] =>
      [-1, 1, -1].map((side, k) => ({ atMm: [200 + 800 * k, 60 + side * spreadMm], weight: 1 }));
    expect(evident(three(40))).toBe(false);
    expect(evident(three(8))).toBe(true);
  });

  it('weighs small weeds less than plants', () => {
    const specks = scattered(80).map((m) => ({ ...m, weight: 0.25 }));
    expect(evident([...row(60, 0, 8), ...specks])).toBe(true);
    expect(evident([...row(60, 0, 8), ...scattered(80)])).toBe(false);
  });
});
