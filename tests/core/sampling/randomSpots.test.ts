import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Position, randomPoints } from '../../../src/core/sampling/randomPoints.ts';
import { randomWalk } from '../../../src/core/sampling/randomWalk.ts';
import { chiSquareQuantile } from '../../../src/core/statistics/chiSquare.ts';
import { seededRandom } from '../../../src/core/statistics/seededRandom.ts';

const FIELD = { lengthPaces: 400, rows: 960, marginPaces: 30, marginRows: 24 };

describe('random walk', () => {
  it('the same seed gives the same walk, another seed another; stops run in the order of rows', () => {
    const walk = (seed: number) => randomWalk(FIELD, 6, seededRandom(seed));
    const first = walk(1);
    expect(walk(1)).toEqual(first);
    expect(walk(2)).not.toEqual(first);
    if (!first.ok) throw new Error(first.code);
    const rows = first.value.stops.map((stop) => stop.rowsOver);
    expect(rows).toEqual([...rows].sort((a, b) => a - b));
    expect(first.value.stops.map((stop) => stop.number)).toEqual([1, 2, 3, 4, 5, 6]);
    expect(first.value.reasons).toHaveLength(1);
  });

  it('stays inside the margins and reaches all of the ground there', () => {
    const walk = randomWalk({ lengthPaces: 12, rows: 10, marginPaces: 2, marginRows: 3 }, 4000, seededRandom(3));
    if (!walk.ok) throw new Error(walk.code);
    const seen = new Set(walk.value.stops.map((stop) => `${stop.rowsOver},${stop.pacesIn}`));
    // rows 4 to 7, paces 2 to 10
    expect(seen.size).toBe(4 * 9);
    for (const stop of walk.value.stops) {
      expect(stop.rowsOver).toBeGreaterThanOrEqual(4);
      expect(stop.rowsOver).toBeLessThanOrEqual(7);
      expect(stop.pacesIn).toBeGreaterThanOrEqual(2);
      expect(stop.pacesIn).toBeLessThanOrEqual(10);
    }
  });

  it('is fair: no cell of the field is picked more often than chance allows', () => {
    const walk = randomWalk({ lengthPaces: 8, rows: 5, marginPaces: 0, marginRows: 0 }, 9000, seededRandom(4));
    if (!walk.ok) throw new Error(walk.code);
    const counts = new Map<string, number>();
    for (const { rowsOver, pacesIn } of walk.value.stops) {
      const key = `${rowsOver},${pacesIn}`;
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
    const expected = 9000 / 45;
    const chi = [...counts.values()].reduce((sum, n) => sum + (n - expected) ** 2 / expected, 0);
    expect(counts.size).toBe(45);
    expect(chi).toBeLessThan(chiSquareQuantile(0.9999, 44));
  });

  it('refuses margins that leave nothing and a number of spots that is none', () => {
    expect(randomWalk({ ...FIELD, marginPaces: 200 }, 5, seededRandom(1))).toMatchObject({ code: 'field too small' });
    expect(randomWalk(FIELD, 0, seededRandom(1))).toMatchObject({ code: 'spots' });
  });
});

describe('points in a field outline', () => {
  /** An L: a square of 2 x 2 without its north-east quarter. */
  const L: readonly Position[] = [
    [0, 0],
    [0, 2],
    [1, 2],
    [1, 1],
    [2, 1],
    [2, 0],
  ];

  it('lie inside, and each third of an L-shaped field gets a third of them', () => {
    const found = randomPoints(L, 3000, seededRandom(5));
    if (!found.ok) throw new Error(found.code);
    const thirds = [0, 0, 0];
    for (const [north, east] of found.value) {
      expect(north < 1 || east < 1).toBe(true);
      thirds[north >= 1 ? 0 : east >= 1 ? 1 : 2]!++;
    }
    // 4 standard errors of a third of 3000
    for (const n of thirds) expect(Math.abs(n - 1000)).toBeLessThan(4 * Math.sqrt((3000 * 2) / 9));
  });

  it('a shift of the outline shifts the points; the direction it was drawn in does not matter', () => {
    fc.assert(
      fc.property(fc.integer({ min: -40, max: 40 }), fc.integer({ min: -90, max: 90 }), (north, east) => {
        const moved = L.map(([y, x]): Position => [y + north, x + east]);
        const one = randomPoints(L, 5, seededRandom(6));
        const other = randomPoints(moved, 5, seededRandom(6));
        const turned = randomPoints([...L].reverse(), 5, seededRandom(6));
        if (!one.ok || !other.ok) throw new Error('refused');
        expect(turned).toEqual(one);
        for (const [i, [y, x]] of one.value.entries()) {
          expect(other.value[i]![0]).toBeCloseTo(y + north, 9);
          expect(other.value[i]![1]).toBeCloseTo(x + east, 9);
        }
      }),
    );
  });

  it('refuses outlines that hold no ground', () => {
    const random = seededRandom(7);
    expect(randomPoints([], 1, random)).toMatchObject({ code: 'outline' });
    expect(randomPoints(L.slice(0, 2), 1, random)).toMatchObject({ code: 'outline' });
    expect(
      randomPoints(
        [
          [0, 0],
          [1, 1],
          [2, 2],
        ],
        1,
        random,
      ),
    ).toMatchObject({ code: 'outline' });
    expect(
      randomPoints(
        [
          [0, 0],
          [0, 1],
          [0, 2],
        ],
        1,
        random,
      ),
    ).toMatchObject({ code: 'outline' });
    expect(
      randomPoints(
        [
          [0, 179],
          [0, -179],
          [1, -179],
        ],
        1,
        random,
      ),
    ).toMatchObject({ code: 'outline' });
    expect(
      randomPoints(
        [
          [0, 0],
          [Number.NaN, 1],
          [1, 1],
        ],
        1,
        random,
      ),
    ).toMatchObject({ code: 'outline' });
    expect(randomPoints(L, 1.5, random)).toMatchObject({ code: 'spots' });
  });
});
