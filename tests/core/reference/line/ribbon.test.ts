import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bestRun } from '../../../../src/core/reference/line/bestRun.ts';
import {
  type Ribbon,
  reverseRibbon,
  ribbonPoint,
  ribbonWidth,
  scaleRibbon,
} from '../../../../src/core/reference/line/ribbon.ts';
import { solveLeastSquares } from '../../../../src/core/reference/line/solveLeastSquares.ts';

const RIBBON: Ribbon = {
  origin: [300, 200],
  dir: [0.8, 0.6],
  bow: [1, -2, 6],
  width: [12, 3],
  scaleS: 500,
  fromS: -200,
  toS: 240,
};

describe('ribbon', () => {
  it('covers the same points walked backwards', () => {
    fc.assert(
      fc.property(fc.double({ min: -200, max: 240, noNaN: true }), (s) => {
        const back = reverseRibbon(RIBBON);
        const [a, b] = [ribbonPoint(RIBBON, s, 2), ribbonPoint(back, -s, -2)];
        expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeLessThan(1e-9);
        expect(ribbonWidth(back, -s)).toBeCloseTo(ribbonWidth(RIBBON, s), 9);
      }),
    );
  });

  it('grows with its picture: pixel (x, y) of the half-size picture is (2x + 0.5, 2y + 0.5)', () => {
    const [x, y] = ribbonPoint(RIBBON, 50, 0);
    const [bigX, bigY] = ribbonPoint(scaleRibbon(RIBBON, 2), 100, 0);
    expect(bigX).toBeCloseTo(2 * x + 0.5, 9);
    expect(bigY).toBeCloseTo(2 * y + 0.5, 9);
  });
});

describe('bestRun', () => {
  it.each([
    ['......', [0, -1]],
    ['.####.', [1, 4]],
    ['.####.###..', [1, 8]],
    ['#......####', [7, 10]],
    ['####........##########', [12, 21]],
  ] as const)('%s', (text, [from, to]) => {
    const run = bestRun(Float32Array.from(text, (c) => (c === '#' ? 1 : 0)));
    expect(run.slice(0, 2)).toEqual([from, to]);
  });
});

describe('solveLeastSquares', () => {
  it('fits a line exactly and leaves out rows of no weight', () => {
    const rows = [0, 1, 2, 3].map((x) => [1, x]);
    expect(solveLeastSquares(rows, [2, 5, 8, 99], [1, 1, 1, 0])?.map((v) => Math.round(v * 1e6) / 1e6)).toEqual([2, 3]);
  });

  it('gives null when the rows do not fix the unknowns', () => {
    expect(solveLeastSquares([[1, 1]], [2], null)).toBeNull();
    expect(
      solveLeastSquares(
        [
          [1, 2],
          [2, 4],
        ],
        [1, 2],
        null,
      )?.every(Number.isFinite) ?? true,
    ).toBe(true);
  });
});
