import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Correction, PhotoChange } from '../../../src/core/corrections/correction.ts';
import { describeChange } from '../../../src/core/corrections/describeChange.ts';
import { replay } from '../../../src/core/corrections/replay.ts';
import { nextRedo, nextUndo, standingChanges } from '../../../src/core/corrections/standingChanges.ts';
import { drawnCount, madeBy } from './drawnCount.ts';

const ROW = 'xox.dw?x..oxx.w.xdxx';
const IDS = [...ROW].flatMap((letter, i) => (letter === '.' ? [] : [`p${i}`]));
const RESULT = deepFrozen(drawnCount(ROW));

const plantId = fc.constantFrom(...IDS, 'n1', 'n2', 'p0.1', 'p7.2');
const pixel = { xPx: fc.double({ min: 0, max: 2300, noNaN: true }), yPx: fc.double({ min: 0, max: 999, noNaN: true }) };
const deed: fc.Arbitrary<PhotoChange> = fc.oneof(
  fc.record({ kind: fc.constant('confirm plant' as const), plantId }),
  fc.record({ kind: fc.constant('remove plant' as const), plantId }),
  fc.record({ kind: fc.constant('name plant' as const), plantId, as: fc.constantFrom('plant', 'weed', 'unsure') }),
  fc.record({ kind: fc.constant('mark damaged' as const), plantId, damaged: fc.boolean() }),
  fc.record({ kind: fc.constant('add plant' as const), plantId: fc.constantFrom('n1', 'n2'), ...pixel }),
  fc.record({ kind: fc.constant('move plant' as const), plantId, ...pixel }),
  fc.record({ kind: fc.constant('split plant' as const), plantId }),
  fc.record({ kind: fc.constant('merge plants' as const), plantId, otherId: plantId }),
  fc.constant({ kind: 'check photo' } as const),
);
const step = fc.oneof({ arbitrary: deed, weight: 3 }, { arbitrary: fc.constantFrom('undo', 'redo'), weight: 1 });

/** What a person at the screen makes of a list of wishes: undo and redo name the record at hand. */
function worked(wishes: readonly (PhotoChange | 'undo' | 'redo')[], from: readonly Correction[] = []): Correction[] {
  const records = [...from];
  for (const wish of wishes) {
    const history = standingChanges(records);
    const change = wish === 'undo' ? nextUndo(history)?.change : wish === 'redo' ? nextRedo(history)?.change : wish;
    if (change !== undefined) records.push(record(change, records.length));
  }
  return records;
}

const record = (change: PhotoChange, i: number): Correction => ({
  id: `k${i}`,
  at: new Date(Date.UTC(2026, 5, 16, 15, 0, 0, i)).toISOString(),
  by: i % 2 === 0 ? 'Ann' : 'Ben',
  change,
});

describe('whatever is done', () => {
  it('undoing all of it gives the start, and redoing all of it gives it back', () => {
    fc.assert(
      fc.property(fc.array(step, { maxLength: 25 }), (wishes) => {
        const done = worked(wishes);
        const { standing } = standingChanges(done);
        const undone = worked(
          standing.map(() => 'undo' as const),
          done,
        );
        expect(replay(RESULT, undone)).toEqual(replay(RESULT, []));
        const again = worked(
          standing.map(() => 'redo' as const),
          undone,
        );
        expect(replay(RESULT, again)).toEqual(replay(RESULT, done));
        // Nothing is ever taken out of the list.
        expect(again.slice(0, done.length)).toEqual(done);
      }),
    );
  });

  it('without corrections the numbers are those of the machine', () => {
    const { count, spacing, gaps, population, reference, stretch } = replay(RESULT, []);
    const { count: c, spacing: s, gaps: g, population: p, reference: r, stretch: t } = RESULT;
    expect({ count, spacing, gaps, population, reference, stretch }).toEqual({
      count: c,
      spacing: s,
      gaps: g,
      population: p,
      reference: r,
      stretch: t,
    });
  });

  it('the count is the number of plants in the stretch, within its interval, and no input is touched', () => {
    fc.assert(
      fc.property(fc.array(step, { maxLength: 25 }), (wishes) => {
        const { plants, count, stretch, spacing } = replay(RESULT, deepFrozen(worked(wishes)));
        const counted = plants.filter(
          (p) => p.kind === 'plant' && p.alongM! >= stretch!.fromM && p.alongM! <= stretch!.toM,
        );
        expect(count.value).toBe(counted.length);
        expect(count.low).toBeLessThanOrEqual(count.value);
        expect(count.high).toBeGreaterThanOrEqual(count.value);
        expect(spacing!.n).toBe(Math.max(0, counted.length - 1));
        expect(new Set(plants.map((p) => p.id)).size).toBe(plants.length);
      }),
    );
  });

  it('corrections of different marks give the same in any order', () => {
    const apart = fc.uniqueArray(fc.tuple(fc.constantFrom(...IDS), deed), { selector: ([id]) => id, maxLength: 8 });
    fc.assert(
      fc.property(apart, fc.infiniteStream(fc.nat()), (pairs, order) => {
        const changes = pairs.flatMap(([id, change]): PhotoChange[] =>
          change.kind === 'merge plants' || change.kind === 'check photo'
            ? []
            : [{ ...change, plantId: change.kind === 'add plant' ? `n-${id}` : id } as PhotoChange],
        );
        const shuffled = changes
          .map((change) => ({ change, key: order.next().value as number }))
          .sort((a, b) => a.key - b.key);
        const one = replay(RESULT, madeBy(changes));
        const other = replay(RESULT, madeBy(shuffled.map(({ change }) => change)));
        expect(other).toEqual(one);
      }),
    );
  });

  it('removing and undoing gives the same', () => {
    fc.assert(
      fc.property(fc.array(deed, { maxLength: 8 }), fc.constantFrom(...IDS), (changes, id) => {
        const before = worked(changes);
        expect(replay(RESULT, worked([{ kind: 'remove plant', plantId: id }, 'undo'], before))).toEqual(
          replay(RESULT, before),
        );
      }),
    );
  });
});

describe('history', () => {
  const remove = (id: string): PhotoChange => ({ kind: 'remove plant', plantId: id });

  it('brings back in the order in which things were taken back, until something new is done', () => {
    const gone = worked([remove('p0'), remove('p1'), remove('p2'), 'undo', 'undo']);
    expect(nextUndo(standingChanges(gone))!.deed.change).toEqual(remove('p0'));
    expect(nextRedo(standingChanges(gone))!.deed.change).toEqual(remove('p1'));
    expect(nextRedo(standingChanges(worked(['redo', 'redo'], gone)))).toBeNull();
    expect(nextRedo(standingChanges(worked([remove('p7')], gone)))).toBeNull();
    expect(gone).toHaveLength(5);
  });

  it('a clock that runs behind loses no undo', () => {
    const [one] = madeBy([remove('p0')]);
    const undo: Correction = {
      id: 'u',
      at: '2020-01-01T00:00:00Z',
      by: 'Ben',
      change: { kind: 'undo', correctionId: one!.id },
    };
    expect(standingChanges([undo, one!]).standing).toEqual([]);
  });

  it('names every step', () => {
    const name = (id: string) => (id === 'p7' ? '3 ft 4 in' : '');
    const said = (change: Correction['change']) => describeChange({ change } as never, 'imperial', name);
    expect(said(remove('p7'))).toBe('not a plant at 3 ft 4 in');
    expect(said({ kind: 'name plant', plantId: 'p7', as: 'weed' })).toBe('weed at 3 ft 4 in');
    expect(said({ kind: 'merge plants', plantId: 'p7', otherId: 'p8' })).toBe('one plant at 3 ft 4 in');
    expect(said({ kind: 'confirm plant', plantId: 'p1' })).toBe('keep');
    expect(said({ kind: 'move reading', readingM: 0.9144, xPx: 0, yPx: 0 })).toBe('place the 3 ft reading');
  });
});

function deepFrozen<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const inner of Object.values(value)) deepFrozen(inner);
  }
  return value;
}
