import fc from 'fast-check';
import jStat from 'jstat';
import { describe, expect, it } from 'vitest';
import { adoptionDecision } from '../../../src/core/learning/adoptionDecision.ts';
import type { CrossValidation } from '../../../src/core/learning/crossValidate.ts';
import { markError } from '../../../src/core/learning/markError.ts';
import { photoFolds } from '../../../src/core/learning/photoFolds.ts';
import { seededRandom } from '../../../src/core/statistics/seededRandom.ts';

function compared(pairs: readonly (readonly [number, number])[], folds = 5): CrossValidation {
  const photos = pairs.map(([before, after], k) => ({ photo: `${k}`, marks: 20, before, after }));
  return { checked: photos.length, photos, folds, labels: ['plant', 'weed'] };
}

const repeated = <T>(n: number, values: readonly T[]): T[] => Array.from({ length: n }, () => values).flat();

describe('whether to take a head', () => {
  it('takes one that saves most corrections on most photos', () => {
    const decision = adoptionDecision(
      compared(
        repeated(5, [
          [4, 1],
          [5, 1],
          [3, 1],
        ]),
      ),
    );
    expect(decision).toMatchObject({ verdict: 'adopt', photos: 15, before: 4, after: 1 });
    expect(decision.reason).toContain('4.0 to 1.0 corrections a photo');
  });

  it('gives the paired t interval, widened for the folds (t quantile from jStat)', () => {
    const pairs = repeated(4, [
      [4, 1],
      [5, 3],
      [3, 1],
    ] as const);
    // differences 3, 2, 2, four times: mean 7/3, sum of squares about it 4 x 2/3
    const half = (jStat.studentt.inv(0.99, 11) * Math.sqrt(8 / 3 / 11) * Math.sqrt(1 + 5 / 4)) / Math.sqrt(12);
    const { saved } = adoptionDecision(compared(pairs));
    expect(saved!.mean).toBeCloseTo(7 / 3, 12);
    expect(saved!.interval.low).toBeCloseTo(7 / 3 - half, 8);
    expect(saved!.interval.high).toBeCloseTo(7 / 3 + half, 8);
  });

  it('cannot tell from none, one kind of mark, or too few photos, and says why', () => {
    const said = (checked: number, labels: CrossValidation['labels']) =>
      adoptionDecision({ checked, photos: [], folds: 0, labels });
    expect(said(0, []).reason).toBe('cannot tell, because no photo was checked');
    expect(said(9, ['plant']).reason).toBe('cannot tell, because all checked marks are of one kind (plant)');
    expect(said(1, ['plant', 'weed']).reason).toContain('1 checked photo is too few: 8 are wanted');
    const two = adoptionDecision(
      compared(
        [
          [9, 0],
          [8, 0],
        ],
        2,
      ),
    );
    expect(two.reason).toContain('2 checked photos are too few: 8 are wanted');
    for (const v of [said(0, []), said(9, ['plant']), two]) expect(v.verdict).toBe('cannot tell');
  });

  it('cannot tell while a worthwhile saving and none are both possible', () => {
    const decision = adoptionDecision(
      compared(
        repeated(2, [
          [9, 1],
          [0, 1],
          [8, 1],
          [1, 4],
          [2, 4],
        ]),
      ),
    );
    expect(decision.verdict).toBe('cannot tell');
    expect(decision.reason).toContain('holds zero');
  });

  it('keeps the stock detector that makes no error, that a head does not beat, or beats by too little', () => {
    expect(adoptionDecision(compared(repeated(9, [[0, 0]]))).verdict).toBe('keep the stock detector');
    expect(adoptionDecision(compared(repeated(9, [[2, 3]]))).verdict).toBe('keep the stock detector');
    expect(adoptionDecision(compared(repeated(9, [[20, 19]]))).verdict).toBe('keep the stock detector');
  });

  it('never takes a head whose interval reaches zero, and never one that is worse', () => {
    const pair = fc.tuple(fc.nat(12), fc.nat(12));
    fc.assert(
      fc.property(fc.array(pair, { minLength: 2, maxLength: 40 }), (pairs) => {
        const { verdict, saved } = adoptionDecision(compared(pairs));
        if (verdict === 'adopt') expect(saved!.interval.low).toBeGreaterThan(0);
        const turned = adoptionDecision(compared(pairs.map(([a, b]) => [b, a])));
        expect(verdict === 'adopt' && turned.verdict === 'adopt').toBe(false);
      }),
    );
  });
});

describe('errors of a mark', () => {
  it('counts what a person has to correct for the plants to be right', () => {
    const said = { plant: [0.9, 0.05], double: [0.3, 0.65] } as const;
    const table = (['plant', 'double', 'weed', 'not a plant'] as const).map((label) => [
      label,
      markError({ kind: 'plant', confidence: said.plant[0], doubleChance: said.plant[1] }, label),
      markError({ kind: 'plant', confidence: said.double[0], doubleChance: said.double[1] }, label),
      markError({ kind: 'weed', confidence: 0.1, doubleChance: 0 }, label),
      markError({ kind: 'unsure', confidence: 0.4, doubleChance: 0 }, label),
    ]);
    expect(table).toEqual([
      ['plant', 0, 1, 1, 1],
      ['double', 1, 0, 1, 1],
      ['weed', 1, 1, 0, 0],
      ['not a plant', 1, 1, 0, 0],
    ]);
  });
});

describe('photos dealt into folds', () => {
  it('holds every photo once, in parts that differ by one at most, whatever the order', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.string(), { minLength: 1, maxLength: 30 }),
        fc.integer({ min: 1, max: 8 }),
        (names, parts) => {
          const folds = photoFolds(names, parts, seededRandom(1));
          expect(folds.flat().sort()).toEqual([...names].sort());
          const sizes = folds.map((f) => f.length);
          expect(Math.max(...sizes) - Math.min(...sizes)).toBeLessThanOrEqual(1);
          expect(photoFolds([...names].reverse(), parts, seededRandom(1))).toEqual(folds);
        },
      ),
    );
  });
});
