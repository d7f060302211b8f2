import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coverage } from '../../../scripts/simulation/coverage.ts';
import { FIELD_KINDS } from '../../../scripts/simulation/simulatedField.ts';
import { stopping } from '../../../scripts/simulation/stopping.ts';
import { fieldStand } from '../../../src/core/sampling/fieldStand.ts';
import { STOPPING, stoppingRule } from '../../../src/core/sampling/stoppingRule.ts';
import { seededRandom } from '../../../src/core/statistics/seededRandom.ts';

/** Spots on 1 m2 each: plants are plants per square metre. */
function answer(plants: readonly number[], floor: number) {
  const stand = fieldStand(
    plants.map((n, i) => ({ id: `${i + 1}`, plants: n, areaM2: 1 })),
    0.9,
  );
  if (!stand.ok) throw new Error(stand.code);
  return stoppingRule(stand.value, floor);
}

describe('stopping rule', () => {
  it('enough above, enough below, more, at the floor', () => {
    expect(answer([80, 84, 78], 40)).toMatchObject({ answer: 'above', moreSpots: 0 });
    expect(answer([20, 22, 18], 60)).toMatchObject({ answer: 'below', moreSpots: 0 });
    const more = answer([50, 70, 60], 48);
    expect(more.answer).toBe('more spots');
    expect(more.moreSpots).toBeGreaterThan(0);
    expect(answer([50, 45, 55, 48, 52, 47, 53, 50, 49, 51], 50)).toMatchObject({
      answer: 'at the floor',
      moreSpots: 0,
    });
  });

  it('never calls on one or two spots, and says how many are missing', () => {
    expect(answer([90], 10)).toMatchObject({ answer: 'more spots', moreSpots: 2, lowerBound: null });
    expect(answer([90, 91], 10)).toMatchObject({ answer: 'more spots', moreSpots: 1 });
  });

  it('three spots that happen to agree are no proof: chance alone decides the width', () => {
    const found = answer([52, 52, 52], 50);
    expect(found.answer).toBe('more spots');
    expect(found.upperBound! - found.lowerBound!).toBeGreaterThan(20);
  });

  it('asks for fewer spots the farther the floor is, and never past the most', () => {
    const near = answer([58, 66, 50, 62], 52).moreSpots;
    const far = answer([58, 66, 50, 62], 47).moreSpots;
    expect(far).toBeLessThan(near);
    expect(near + 4).toBeLessThanOrEqual(STOPPING.mostSpots);
  });

  it('properties: order never matters; a lower floor never turns above into below', () => {
    const plants = fc.array(fc.integer({ min: 0, max: 120 }), { minLength: 3, maxLength: 10 });
    fc.assert(
      fc.property(plants, fc.integer({ min: 1, max: 100 }), (list, floor) => {
        const one = answer(list, floor);
        expect(answer([...list].reverse(), floor).answer).toBe(one.answer);
        const lower = answer(list, floor / 2).answer;
        if (one.answer === 'above') expect(lower).toBe('above');
        if (lower === 'below') expect(one.answer).toBe('below');
      }),
    );
  });
});

describe('honesty on seeded fields', () => {
  // The printed table (scripts/simulate-fields.ts) has 6,000 visits to a cell; here 1,000 keep the tests short. A share of
  // 1,000 visits has a standard error of 0.95 points: single cells get 2 of them beyond 88 to 93, means over all spots none.
  const SLACK = 0.019;
  it.each(['Poisson', 'clumped', 'patchy'] as const)(
    '%s: the 90 percent interval holds in 88 to 93 percent of visits',
    (kind) => {
      const cells = coverage(kind, false, 1000, 1, 0.9, seededRandom(1));
      for (const cell of cells) {
        expect(cell.covered).toBeGreaterThan(0.88 - SLACK);
        expect(cell.covered).toBeLessThan(0.93 + SLACK);
      }
      const mean = cells.reduce((sum, cell) => sum + cell.covered, 0) / cells.length;
      expect(mean).toBeGreaterThan(0.88);
      expect(mean).toBeLessThan(0.93);
    },
  );

  it('one hard patch: it falls short, the tool says so every time, and marking the patch mends it', () => {
    const blind = coverage('one hard patch', false, 1000, 1, 0.9, seededRandom(2));
    expect(blind[0]!.covered).toBeLessThan(0.88);
    for (const cell of blind) if (cell.covered < 0.88) expect(cell.warned).toBe(1);
    for (const cell of coverage('one hard patch', true, 1000, 1, 0.9, seededRandom(2)).slice(1)) {
      expect(cell.covered).toBeGreaterThan(0.88 - SLACK);
    }
  });

  it('wrong calls stay at or under 5 %, far under those of a fixed rule of 4 spots', () => {
    for (const kind of FIELD_KINDS) {
      const found = stopping(kind, 1000, seededRandom(3));
      expect(found.wrong, kind).toBeLessThan(0.05);
      expect(found.wrong, kind).toBeLessThan(found.wrongOfFour / 2);
      expect(found.meanSpots).toBeLessThan(STOPPING.mostSpots);
    }
  });
});
