import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gapsInRow, shareInGaps } from '../../../src/core/stand/gapsInRow.ts';

/** A row as text: one character a decimetre, `*` a plant in the middle of it. */
function row(text: string): { positionsM: number[]; toM: number } {
  const positionsM = [...text].flatMap((c, i) => (c === '*' ? [(i + 0.5) / 10] : []));
  return { positionsM, toM: text.length / 10 };
}

function gapsOf(text: string, thresholdM: number): string[] {
  const { positionsM, toM } = row(text);
  return gapsInRow(positionsM, 0, toM, thresholdM).map((g) => `${g.fromM.toFixed(2)}..${g.toM.toFixed(2)}`);
}

describe('gapsInRow', () => {
  it('finds runs between plants, at the two ends, and a row without plants', () => {
    expect(gapsOf('*.*.*.*.*', 0.3)).toEqual([]);
    expect(gapsOf('*.*......*.*', 0.3)).toEqual(['0.25..0.95']);
    expect(gapsOf('....*.*.*', 0.3)).toEqual(['0.00..0.45']);
    expect(gapsOf('*.*.*....', 0.3)).toEqual(['0.45..0.90']);
    expect(gapsOf('....*....', 0.3)).toEqual(['0.00..0.45', '0.45..0.90']);
    expect(gapsOf('.........', 0.3)).toEqual(['0.00..0.90']);
  });

  it('longer than the threshold, not equal to it; 0.4 - 0.1 is 0.3 on paper', () => {
    expect(gapsInRow([0, 0.3], 0, 0.3, 0.3)).toEqual([]);
    expect(0.4 - 0.1).toBeGreaterThan(0.3);
    expect(gapsInRow([0.1, 0.4], 0.1, 0.4, 0.3)).toEqual([]);
    expect(gapsInRow([0, 0.301], 0, 0.301, 0.3)).toHaveLength(1);
  });

  it('1.9 ft is filled by neighbours and not counted, 2.1 ft costs yield (Iowa State ICM, 24 May 1999; soybean)', () => {
    const twoFeet = 2 * 0.3048;
    expect(gapsInRow([0, 1.9 * 0.3048], 0, 1.9 * 0.3048, twoFeet)).toHaveLength(0);
    expect(gapsInRow([0, 2.1 * 0.3048], 0, 2.1 * 0.3048, twoFeet)).toHaveLength(1);
  });

  it('leaves plants outside the stretch alone', () => {
    expect(gapsInRow([-1, 0.5, 9], 0, 1, 0.3)).toEqual([
      { fromM: 0, toM: 0.5, lengthM: 0.5 },
      { fromM: 0.5, toM: 1, lengthM: 0.5 },
    ]);
  });

  it('a stretch of 0 has no gap; a stretch backwards or a threshold of 0 is a mistake', () => {
    expect(gapsInRow([], 2, 2, 0.3)).toEqual([]);
    expect(() => gapsInRow([], 3, 2, 0.3)).toThrow(RangeError);
    expect(() => gapsInRow([], 0, 2, 0)).toThrow(RangeError);
    expect(shareInGaps([], 0)).toBeNull();
  });

  it('properties: order never matters; mirrored rows have mirrored gaps; a plant more never lengthens them', () => {
    const positions = fc.array(fc.double({ min: 0, max: 10, noNaN: true }), { maxLength: 30 });
    fc.assert(
      fc.property(positions, fc.double({ min: 0, max: 10, noNaN: true }), (list, extra) => {
        const gaps = gapsInRow(list, 0, 10, 0.5);
        expect(gapsInRow([...list].reverse(), 0, 10, 0.5)).toEqual(gaps);
        const mirrored = gapsInRow(
          list.map((p) => 10 - p),
          0,
          10,
          0.5,
        );
        expect(shareInGaps(mirrored, 10)).toBeCloseTo(shareInGaps(gaps, 10)!, 6);
        const filled = shareInGaps(gapsInRow([...list, extra], 0, 10, 0.5), 10)!;
        expect(filled).toBeLessThanOrEqual(shareInGaps(gaps, 10)! + 1e-12);
        expect(shareInGaps(gaps, 10)).toBeLessThanOrEqual(1 + 1e-12);
      }),
    );
  });
});
