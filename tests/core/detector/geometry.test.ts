import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { calibrate } from '../../../src/core/detector/calibrate.ts';
import { placeBase } from '../../../src/core/detector/placeBase.ts';
import { samePlant } from '../../../src/core/detector/samePlant.ts';
import { visibleStem } from '../../../src/core/detector/visibleStem.ts';
import { cellsOf, mapsFrom } from './mapsFrom.ts';

const above = { away: [0, 1], tangent: 0 } as const;
const fromSide = { away: [0, -1], tangent: 1 } as const;
const at = (x: number, y: number, baseX = x, baseY = y) => ({ crownMm: [x, y], baseMm: [baseX, baseY] }) as const;

describe('samePlant', () => {
  it('keeps plants 10 mm apart as two when seen from above', () => {
    expect(samePlant(at(0, 0), at(10, 0), above, 8)).toBe(false);
    expect(samePlant(at(0, 0), at(7, 0), above, 8)).toBe(true);
  });

  it('joins two joints of one stem seen from the side, but not two stems beside each other', () => {
    expect(samePlant(at(0, 0, 0, 60), at(2, 30, 1, 58), fromSide, 8)).toBe(true);
    expect(samePlant(at(0, 0, 0, 60), at(0, 30, 0, 100), fromSide, 8)).toBe(false);
    expect(samePlant(at(0, 0, 0, 60), at(20, 0, 20, 60), fromSide, 8)).toBe(false);
  });
});

describe('visibleStem', () => {
  it('walks down the green toward the camera and stops at its end', () => {
    const rows = Array.from({ length: 40 }, () => '.'.repeat(20));
    const maps = mapsFrom(rows);
    for (let y = 5; y <= 25; y++) cellsOf(maps, 10, y)(7, 0.9);
    const long = visibleStem(maps, [20.5, 10.5], fromSide, { stride: 2, mmPerPx: 2 });
    expect(long).toBeGreaterThanOrEqual(39);
    expect(long).toBeLessThanOrEqual(42);
    expect(visibleStem(maps, [20.5, 10.5], above, { stride: 2, mmPerPx: 2 })).toBe(0);
  });
});

describe('placeBase', () => {
  it('leaves the regressed base alone straight above the plant', () => {
    expect(placeBase([10, 10], [12, 13], 50, above, { y0: 40, slope: 0, sdPx: 1 })).toEqual([12, 13]);
  });

  it('moves the base toward the row along the line of sight only', () => {
    fc.assert(
      fc.property(fc.double({ min: -8, max: 8, noNaN: true }), (off) => {
        const [x, y] = placeBase([10, 10], [10, 30], 0, fromSide, { y0: 30 + off, slope: 0, sdPx: 2 });
        expect(x).toBeCloseTo(10, 9);
        expect(Math.abs(y - (30 + off))).toBeLessThanOrEqual(Math.abs(off) + 1e-9);
        expect((y - 30) * off).toBeGreaterThanOrEqual(-1e-9);
      }),
    );
  });

  it('follows the visible stem in photos from the side of the row, not along it', () => {
    expect(placeBase([0, 0], [0, 10], 30, fromSide, null)[1]).toBeCloseTo(25, 9);
    expect(placeBase([0, 0], [10, 0], 30, { away: [-1, 0], tangent: 1 }, null)[0]).toBeCloseTo(10, 9);
  });
});

describe('calibrate', () => {
  const table = [
    [0.1, 0],
    [0.3, 0.5],
    [0.5, 1],
  ] as const;

  it('reads straight lines between the points and holds the ends', () => {
    expect([0, 0.1, 0.2, 0.4, 0.5, 1].map((s) => calibrate(s, table))).toEqual([
      0,
      0,
      expect.closeTo(0.25),
      expect.closeTo(0.75),
      1,
      1,
    ]);
  });

  it('never falls as the score rises', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true }), (a, b) => {
        expect(calibrate(Math.max(a, b), table)).toBeGreaterThanOrEqual(calibrate(Math.min(a, b), table));
      }),
    );
  });

  it('refuses an empty table', () => {
    expect(() => calibrate(0.5, [])).toThrow(RangeError);
  });
});
