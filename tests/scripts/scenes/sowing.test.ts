import { describe, expect, it } from 'vitest';
import { crop } from '../../../scripts/scenes/presets.ts';
import { seededRandom } from '../../../scripts/scenes/random.ts';
import { bareRuns, sowRow } from '../../../scripts/scenes/sowing.ts';

describe('bareRuns', () => {
  it('lists nothing, everything, ends and middles', () => {
    expect(bareRuns([], 0, 1, 0.3)).toEqual([{ fromM: 0, toM: 1 }]);
    expect(bareRuns([0.5], 0, 1, 0.6)).toEqual([]);
    expect(bareRuns([0.5, 0.9, 0.55], 0, 1, 0.3)).toEqual([
      { fromM: 0, toM: 0.5 },
      { fromM: 0.55, toM: 0.9 },
    ]);
  });

  it('ignores plants outside the stretch', () => {
    expect(bareRuns([-1, 2], 0, 1, 0.3)).toEqual([{ fromM: 0, toM: 1 }]);
  });
});

describe('sowRow', () => {
  const straight = (): number => 0;

  it('is the same for the same seed', () => {
    const sow = () => sowRow(crop(), 0, 3, straight, [], seededRandom(5));
    expect(sow()).toEqual(sow());
  });

  it('leaves the forced gap bare', () => {
    const row = sowRow(crop({ seedSpacingM: 0.05 }), 0, 3, straight, [[1, 1.6]], seededRandom(6));
    expect(row.some((s) => s.alongM > 1 && s.alongM < 1.6)).toBe(false);
  });

  it('comes out near seeds times the share that emerged', () => {
    const row = sowRow(
      crop({ seedSpacingM: 0.1, missShare: 0.2, doubleShare: 0 }),
      0,
      1000,
      straight,
      [],
      seededRandom(7),
    );
    // Binomial n = 10000, p = 0.8: standard deviation 40, four of them either way.
    expect(Math.abs(row.length - 8000)).toBeLessThan(160);
  });
});
