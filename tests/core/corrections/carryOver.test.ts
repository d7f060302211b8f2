import { describe, expect, test } from 'vitest';
import { carryOver } from '../../../src/core/corrections/carryOver.ts';
import type { Correction, PhotoChange } from '../../../src/core/corrections/correction.ts';
import { replay } from '../../../src/core/corrections/replay.ts';
import type { CountResult } from '../../../src/core/count/countResult.ts';
import { drawnCount } from './drawnCount.ts';

// Pictures are drawn, one letter a decimetre (drawnCount); what must come out follows from what was said, no source.

const said = (...changes: readonly PhotoChange[]): Correction[] =>
  changes.map((change, i) => ({ id: `k${i}`, at: `2026-06-16T15:00:0${i}Z`, by: 'Ann', change }));

/** The same count under other names, every mark so many pixels (millimetres) to the right. */
const moved = (result: CountResult, byPx: number): CountResult => ({
  ...result,
  plants: result.plants.map((p) => ({ ...p, id: `new-${p.id}`, xPx: p.xPx + byPx, alongM: p.alongM! + byPx / 1000 })),
});

/** What a person sees after the corrections: kinds along the row, who vouches, what is hurt. */
const seen = (result: CountResult, corrections: readonly Correction[]) =>
  replay(result, corrections).plants.map(({ kind, checked, damaged }) => ({ kind, by: checked?.by ?? null, damaged }));

const carried = (before: CountResult, corrections: readonly Correction[], after: CountResult) =>
  carryOver(before, corrections, after).changes.map(
    ({ by, change }, i): Correction => ({ id: `c${i}`, at: `2026-06-16T16:00:0${i}Z`, by, change }),
  );

describe('corrections of one count of a photo, said of another', () => {
  const before = drawnCount('xox.w?d.xx');

  test('on the same marks under other names, up to a centimetre off, everybody sees the same as before', () => {
    const corrections = said(
      { kind: 'confirm plant', plantId: 'p1' },
      { kind: 'remove plant', plantId: 'p2' },
      { kind: 'name plant', plantId: 'p4', as: 'plant' },
      { kind: 'mark damaged', plantId: 'p0', damaged: true },
      { kind: 'split plant', plantId: 'p6' },
      { kind: 'remove plant', plantId: 'p6.2' },
      { kind: 'merge plants', plantId: 'p8', otherId: 'p9' },
      { kind: 'add plant', plantId: 'added-1', xPx: 450, yPx: 400 },
    );
    const after = moved(before, 10);
    const there = carried(before, corrections, after);
    expect(there).toHaveLength(corrections.length);
    expect(seen(after, there)).toEqual(seen(before, corrections));
    expect(new Set(there.map(({ by }) => by))).toEqual(new Set(['Ann']));
  });

  test('what was taken back is not said again', () => {
    const corrections = said({ kind: 'remove plant', plantId: 'p0' }, { kind: 'undo', correctionId: 'k0' });
    expect(carryOver(before, corrections, moved(before, 0))).toEqual({ changes: [], left: [] });
  });

  test('a plant that a person kept and the new count misses is put in; what they took off and it misses too is settled', () => {
    const after = moved(drawnCount('.ox.w?d.x.'), 0);
    const there = carried(
      before,
      said({ kind: 'confirm plant', plantId: 'p0' }, { kind: 'remove plant', plantId: 'p9' }),
      after,
    );
    expect(there.map(({ change }) => change)).toEqual([
      { kind: 'add plant', plantId: 'kept-p0', xPx: before.plants[0]!.xPx, yPx: before.plants[0]!.yPx },
    ]);
    expect(replay(after, there).count.value).toBe(after.count.value + 1);
  });

  test('a plant that a person added and the new count has of its own is not counted twice', () => {
    const first = drawnCount('x.x');
    const [xPx, yPx] = [first.plants[0]!.xPx + 100, first.plants[0]!.yPx];
    const after = moved(drawnCount('xox'), 5);
    const there = carried(first, said({ kind: 'add plant', plantId: 'added-1', xPx, yPx }), after);
    expect(there.map(({ change }) => change)).toEqual([{ kind: 'confirm plant', plantId: 'new-p1' }]);
    expect(replay(after, there).count.value).toBe(3);
  });

  test('where the machine changed its mind about a kept mark, the person’s word is its name', () => {
    const there = carried(drawnCount('xx'), said({ kind: 'confirm plant', plantId: 'p0' }), moved(drawnCount('wx'), 0));
    expect(there.map(({ change }) => change)).toEqual([{ kind: 'name plant', plantId: 'new-p0', as: 'plant' }]);
  });

  test('two marks that are one in the new count need no word more', () => {
    const there = carryOver(
      drawnCount('xx'),
      said({ kind: 'merge plants', plantId: 'p0', otherId: 'p1' }),
      moved(drawnCount('.x'), 0),
    );
    expect(there).toEqual({ changes: [], left: [] });
  });

  test('what is about the reference or the whole photo stays with the old count', () => {
    const corrections = said({ kind: 'move reading', readingM: 0, xPx: 1, yPx: 2 }, { kind: 'check photo' });
    const { changes, left } = carryOver(before, corrections, moved(before, 0));
    expect(changes).toEqual([]);
    expect(left.map(({ change }) => change.kind)).toEqual(['move reading', 'check photo']);
  });

  test('without a scale on the new count places are compared in the photo itself', () => {
    const after = moved(before, 3);
    const bare = { ...after, stretch: null, reference: { ...after.reference, photoToGround: null } };
    const there = carried(before, said({ kind: 'remove plant', plantId: 'p2' }), bare);
    expect(there.map(({ change }) => change)).toEqual([{ kind: 'remove plant', plantId: 'new-p2' }]);
  });
});
