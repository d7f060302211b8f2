import { describe, expect, it } from 'vitest';
import type { Correction } from '../../../src/core/corrections/correction.ts';
import { replay } from '../../../src/core/corrections/replay.ts';
import { applyHomography } from '../../../src/core/geometry/homography.ts';
import { ACTIONS, changeFor, nearestOther } from '../../../src/ui/correct/actions.ts';
import { wishOf } from '../../../src/ui/correct/keys.ts';
import { type Mark, marksOf } from '../../../src/ui/correct/marks.ts';
import { nudged } from '../../../src/ui/correct/nudge.ts';
import { numbersOf, numbersSpoken } from '../../../src/ui/correct/numbers.ts';
import { proposePlace } from '../../../src/ui/correct/proposePlace.ts';
import { drawnCount, madeBy } from '../../core/corrections/drawnCount.ts';

const shown = (row: string, changes: readonly Correction['change'][] = [], by = 'Ann') =>
  replay(drawnCount(row), madeBy(changes, by));
const marks = (row: string, changes: readonly Correction['change'][] = [], by = 'Ann') =>
  marksOf(shown(row, changes, by), 'Ann', 'metric');
const plain = { ctrlKey: false, metaKey: false, altKey: false, shiftKey: false };
/** One letter a mark: the shape, then what a person's tag shows. */
const drawn = (list: readonly Mark[]) => list.map((m) => `${m.shape}${m.sign ?? ''}`).join(' ');

describe('marks', () => {
  it('have a shape for what they are and a tag for what a person did', () => {
    expect(drawn(marks('xow?'))).toBe('sure fairly weed unsure');
    expect(
      drawn(
        marks('xow?x', [
          { kind: 'confirm plant', plantId: 'p1' },
          { kind: 'name plant', plantId: 'p0', as: 'weed' },
          { kind: 'remove plant', plantId: 'p4' },
        ]),
      ),
    ).toBe('weed✎ sure✓ weed unsure gone✕');
  });

  it('number the counted plants along the row, and only those', () => {
    expect(marks('xw.x?x').map((m) => m.number)).toEqual([1, null, 2, null, 3]);
  });

  it('say what they are, where, and who said so', () => {
    expect(marks('xod').map((m) => m.says)).toEqual([
      'Plant 1, 5 cm, machine: 95 % sure',
      'Plant 2, 15 cm, machine: 60 % sure',
      'Plant 3, 25 cm, perhaps two plants (35 %)',
    ]);
    expect(marks('x', [{ kind: 'confirm plant', plantId: 'p0' }])[0]!.says).toBe('Plant 1, 5 cm, kept by you');
    expect(marks('x', [{ kind: 'mark damaged', plantId: 'p0', damaged: true }], 'Ben Field')[0]!.says).toBe(
      'Plant 1, 5 cm, looked at by BF, hurt',
    );
  });
});

describe('keys', () => {
  it('every answer has one plain key, the one on its button', () => {
    for (const { key, wish } of ACTIONS) {
      expect(wishOf({ ...plain, key: key.toLowerCase() })).toBe(wish);
      expect(wishOf({ ...plain, key })).toBe(wish);
    }
  });

  it('leave the keys of browser and page alone', () => {
    for (const key of ['Tab', 'F5', ' ', 'PageDown', 'q']) expect(wishOf({ ...plain, key })).toBeNull();
    for (const key of ['k', 'w', 'r', 't', 'n']) {
      expect(wishOf({ ...plain, ctrlKey: true, key })).toBeNull();
      expect(wishOf({ ...plain, metaKey: true, key })).toBeNull();
      expect(wishOf({ ...plain, altKey: true, key })).toBeNull();
    }
    expect(wishOf({ ...plain, ctrlKey: true, key: 'z' })).toBe('undo');
    expect(wishOf({ ...plain, metaKey: true, shiftKey: true, key: 'Z' })).toBe('redo');
  });

  it('arrows move 1 cm of soil in the row and 1 pixel in the photo, ten times as far with shift', () => {
    const result = shown('x');
    // 1 mm a pixel, along to the right, across up.
    expect(nudged([500, 500], [1, 0], false, 'row', result)).toEqual([expect.closeTo(510, 6), expect.closeTo(500, 6)]);
    expect(nudged([500, 500], [0, 1], true, 'row', result)).toEqual([expect.closeTo(500, 6), expect.closeTo(600, 6)]);
    expect(nudged([500, 500], [-1, 0], false, 'photo', result)).toEqual([499, 500]);
    const bare = { ...result, reference: { ...result.reference, photoToGround: null } };
    expect(nudged([500, 500], [0, 1], true, 'row', bare)).toEqual([500, 510]);
  });
});

describe('answers', () => {
  it('ask for one change each', () => {
    const [plant, weed] = marks('xw');
    expect(changeFor('keep', plant!)).toEqual({ kind: 'confirm plant', plantId: 'p0' });
    expect(changeFor('keep', weed!)).toEqual({ kind: 'name plant', plantId: 'p1', as: 'plant' });
    expect(changeFor('not a plant', weed!)).toEqual({ kind: 'remove plant', plantId: 'p1' });
    const [hurt] = marks('x', [{ kind: 'mark damaged', plantId: 'p0', damaged: true }]);
    expect(changeFor('hurt', hurt!)).toEqual({ kind: 'mark damaged', plantId: 'p0', damaged: false });
  });

  it('one plant: the nearest other mark that is no weed', () => {
    const list = marks('x.xwx');
    expect(nearestOther(list, list[1]!)!.plant.id).toBe('p0');
    expect(nearestOther(list, list[3]!)!.plant.id).toBe('p2');
    expect(nearestOther(marks('xw'), marks('xw')[0]!)).toBeNull();
  });

  it('a missed plant is looked for in the bare runs, the longest first, on the row and not on the tape', () => {
    const result = shown('xx....xx..x');
    const places = [0, 1, 2].map((turn) =>
      applyHomography(result.reference.photoToGround!, proposePlace(result, turn)!),
    );
    // Bare from 0.15 to 0.65 m, from 0.75 to 1.05 m, then the first of the 10 cm runs; the row is 10 cm across.
    expect(places[0]).toEqual([expect.closeTo(0.4, 6), expect.closeTo(0.1, 6)]);
    expect(places[1]![0]).toBeCloseTo(0.9, 6);
    expect(proposePlace(result, 6)).toEqual(proposePlace(result, 0));
    expect(proposePlace({ ...result, stretch: null }, 0)).toBeNull();
    expect(applyHomography(result.reference.photoToGround!, proposePlace(shown('....'), 0)!)[0]).toBeCloseTo(0.2, 6);
  });

  it('the population has its doubt beside it, in the unit that is shown', () => {
    const population = { ...shown('xxxx').population!, perAcre: 50_000, perHectare: 123_553 };
    const result = { ...shown('xxxx'), population: { ...population, lowPerAcre: 40_000, highPerAcre: 60_000 } };
    expect(numbersOf(result, 'imperial')).toMatchObject({ population: '50,000', populationRange: '40,000–60,000' });
    // One hectare is 2.4710538 acres (international acre): 98,842 and 148,263, told in thousands.
    expect(numbersOf(result, 'metric')).toMatchObject({ population: '124,000', populationRange: '99,000–148,000' });
    expect(numbersSpoken(numbersOf(result, 'metric'))).toMatch(/^4 plants, \d+ to \d+$/);
    const alone = shown('x');
    expect(numbersSpoken(numbersOf(alone, 'metric'))).toMatch(/^1 plant, /);
  });

  it('numbers on top tell what cannot be told', () => {
    expect(numbersOf(shown('xxx....xx'), 'metric')).toMatchObject({ count: '5', spacing: '20 cm', gap: '50 cm' });
    const even = shown('xxxx');
    const thirty = { ...even, setting: { ...even.setting!, gapM: 0.3 } };
    expect(numbersOf(thirty, 'metric')).toMatchObject({ gap: 'none', leastGap: 'over 30 cm' });
    const { setting: _early, ...early } = even;
    expect(numbersOf(early, 'metric')).toMatchObject({ gap: 'none', leastGap: '' });
    const bare = { ...shown('x'), population: null, spacing: null, stretch: null };
    expect(numbersOf(bare, 'imperial')).toMatchObject({ population: null, spacing: null, gap: null });
  });
});
