import { describe, expect, it } from 'vitest';
import { middleRow } from '../../../src/core/count/middleRow.ts';
import type { Point } from '../../../src/core/geometry/point.ts';
import { seeded } from '../../support/drawLineScene.ts';

/** Rows seen from aside: each farther one higher in the picture and denser. */
function rows(ys: readonly number[], rise: number): { points: Point[]; row: number[] } {
  const random = seeded(3);
  const points: Point[] = [];
  const row: number[] = [];
  ys.forEach((y, k) => {
    for (let x = 40; x < 1960; x += 60 + 0.05 * y) {
      points.push([x + 20 * (random() - 0.5), y + rise * x + 16 * (random() - 0.5)]);
      row.push(k);
    }
  });
  return { points, row };
}

describe('middleRow', () => {
  it.each([0, 0.05, -0.08])('takes the row nearest to the middle of six, all of it and no other (rise %d)', (rise) => {
    const { points, row } = rows([120, 220, 350, 510, 730 - 1000 * rise, 1150], rise);
    const taken = points.map(middleRow(points, 2000, 1500));
    expect(taken).toEqual(row.map((k) => k === 4));
  });

  it('prefers the row in the middle to a denser one farther off, as rows seen from aside grow denser', () => {
    const middle = Array.from({ length: 15 }, (_, i): Point => [80 + 130 * i, 750 + 12 * (i % 3)]);
    const farther = Array.from({ length: 40 }, (_, i): Point => [40 + 48 * i, 520 + 4 * (i % 2)]);
    const taken = middleRow([...middle, ...farther], 2000, 1500);
    expect(middle.every(taken)).toBe(true);
    expect(farther.some(taken)).toBe(false);
  });

  it('takes the same plants when the picture is on its side', () => {
    const { points } = rows([200, 740, 1200], 0.02);
    const turned = points.map(([x, y]): Point => [1499 - y, x]);
    expect(turned.map(middleRow(turned, 1500, 2000))).toEqual(points.map(middleRow(points, 2000, 1500)));
  });

  it('takes all of a few plants, and of none', () => {
    const few: Point[] = [
      [5, 5],
      [90, 20],
      [30, 80],
    ];
    const same = Array.from({ length: 6 }, (): Point => [50, 50]);
    for (const points of [[], few, same]) expect(points.every(middleRow(points, 100, 100))).toBe(true);
  });
});
