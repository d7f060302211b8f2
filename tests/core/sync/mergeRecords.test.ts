import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { canonicalJson } from '../../../src/core/sync/canonicalJson.ts';
import type { ChangeRecord } from '../../../src/core/sync/changeRecord.ts';
import { editThing, NOTHING_YET, settleConflict } from '../../../src/core/sync/editThing.ts';
import type { Json } from '../../../src/core/sync/json.ts';
import { mergeRecords } from '../../../src/core/sync/mergeRecords.ts';
import { isElementPath } from '../../../src/core/sync/path.ts';
import { recordSchema } from '../../../src/core/sync/recordSchema.ts';
import { anyDocument, anyHistory, madeRecord } from './arbitraries.ts';

const edit = (number: number, seen: readonly ChangeRecord[], next: Json, author = 'Ada', minute = 0): ChangeRecord =>
  madeRecord(number, {
    author,
    device: `phone of ${author}`,
    at: `2026-06-01T10:0${minute}:00.000Z`,
    changes: editThing(mergeRecords(seen), next),
  });

const plain = (merged: ReturnType<typeof mergeRecords>) =>
  canonicalJson(JSON.parse(JSON.stringify({ ...merged, heads: [...merged.heads], standing: [...merged.standing] })));

describe('two people and one visit', () => {
  const start = edit(1, [], { date: '2026-06-12', spots: [{ id: 's1', count: 30 }], note: '' });

  test('changes to different things are both there, and nothing is in conflict', () => {
    const ada = edit(2, [start], { date: '2026-06-12', spots: [{ id: 's1', count: 31 }], note: '' });
    const ben = edit(3, [start], { date: '2026-06-12', spots: [{ id: 's1', count: 30 }], note: 'crusted' }, 'Ben');
    const merged = mergeRecords([start, ada, ben]);
    expect(merged.document).toEqual({ date: '2026-06-12', spots: [{ id: 's1', count: 31 }], note: 'crusted' });
    expect(merged.conflicts).toEqual([]);
  });

  test('both add a spot: both spots are there', () => {
    const ada = edit(2, [start], {
      ...(mergeRecords([start]).document as object),
      spots: [
        { id: 's1', count: 30 },
        { id: 's2', count: 28 },
      ],
    });
    const ben = edit(
      3,
      [start],
      {
        ...(mergeRecords([start]).document as object),
        spots: [
          { id: 's1', count: 30 },
          { id: 's3', count: 27 },
        ],
      },
      'Ben',
    );
    const merged = mergeRecords([ben, ada, start]);
    expect((merged.document as { spots: Json }).spots).toEqual([
      { id: 's1', count: 30 },
      { id: 's2', count: 28 },
      { id: 's3', count: 27 },
    ]);
    expect(merged.conflicts).toEqual([]);
  });

  test('the same value changed by both: the later stands, both are shown, settling it ends it', () => {
    const ada = edit(2, [start], { date: '2026-06-12', spots: [{ id: 's1', count: 31 }], note: '' }, 'Ada', 2);
    const ben = edit(3, [start], { date: '2026-06-12', spots: [{ id: 's1', count: 35 }], note: '' }, 'Ben', 1);
    const merged = mergeRecords([start, ada, ben]);
    expect((merged.document as { spots: Json }).spots).toEqual([{ id: 's1', count: 31 }]);
    expect(merged.conflicts.map((c) => [c.path, c.sides.map((s) => [s.author, s.value])])).toEqual([
      [
        '/spots/[s1]/count',
        [
          ['Ada', 31],
          ['Ben', 35],
        ],
      ],
    ]);
    const settled = madeRecord(4, { author: 'Cleo', changes: settleConflict(merged, merged.conflicts[0]!, 1) });
    const after = mergeRecords([start, ada, ben, settled]);
    expect(after.conflicts).toEqual([]);
    expect((after.document as { spots: Json }).spots).toEqual([{ id: 's1', count: 35 }]);
  });

  test('both wrote the same value: no conflict', () => {
    const next = { date: '2026-06-12', spots: [{ id: 's1', count: 31 }], note: '' };
    expect(mergeRecords([start, edit(2, [start], next), edit(3, [start], next, 'Ben')]).conflicts).toEqual([]);
  });

  test('one removes a spot while the other corrects it: the whole spot stays until settled', () => {
    const ada = edit(2, [start], { date: '2026-06-12', spots: [], note: '' });
    const ben = edit(3, [start], { date: '2026-06-12', spots: [{ id: 's1', count: 35 }], note: '' }, 'Ben');
    const merged = mergeRecords([start, ada, ben]);
    expect((merged.document as { spots: Json }).spots).toEqual([{ id: 's1', count: 35 }]);
    expect(merged.conflicts.map((c) => [c.path, c.sides.map((s) => [s.author, s.value === undefined])])).toEqual([
      [
        '/spots/[s1]',
        [
          ['Ben', false],
          ['Ada', true],
        ],
      ],
    ]);
    const unrelated = edit(4, [start, ada, ben], { ...(merged.document as object), note: 'dry' }, 'Cleo');
    expect(mergeRecords([start, ada, ben, unrelated]).conflicts).toHaveLength(1);
    for (const [side, spots] of [
      [0, [{ id: 's1', count: 35 }]],
      [1, []],
    ] as const) {
      const settled = madeRecord(5, { changes: settleConflict(merged, merged.conflicts[0]!, side) });
      const after = mergeRecords([start, ada, ben, settled]);
      expect(after.conflicts).toEqual([]);
      expect((after.document as { spots: Json }).spots).toEqual(spots);
    }
  });

  test('a value met an object: both are shown and either can be chosen', () => {
    const ada = edit(2, [start], { date: '2026-06-12', spots: [{ id: 's1', count: 30 }], note: { soil: 'wet' } });
    const ben = edit(3, [start], { date: '2026-06-12', spots: [{ id: 's1', count: 30 }], note: 'wet' }, 'Ben');
    const merged = mergeRecords([start, ada, ben]);
    const shape = merged.conflicts.find((c) => c.sides.some((s) => s.author === 'Ada' && s.value !== undefined))!;
    expect(shape.sides.map((s) => s.value)).toContainEqual({ soil: 'wet' });
    for (const [side, note] of [
      [0, { soil: 'wet' }],
      [1, 'wet'],
    ] as const) {
      const changes = settleConflict(merged, shape, side);
      const after = mergeRecords([start, ada, ben, madeRecord(4, { changes })]);
      expect((after.document as { note: Json }).note).toEqual(note);
    }
  });
});

describe('any history', () => {
  test('order of arrival and repeats never change the result', () => {
    fc.assert(
      fc.property(
        anyHistory.chain((records) =>
          fc.tuple(
            fc.constant(records),
            fc.shuffledSubarray([...records, ...records], { minLength: records.length * 2 }),
          ),
        ),
        ([records, shuffled]) => {
          expect(plain(mergeRecords(shuffled))).toBe(plain(mergeRecords(records)));
        },
      ),
    );
  });

  test('nothing is lost: each value stands, is shown in a conflict, or was replaced by somebody who had seen it', () => {
    fc.assert(
      fc.property(anyHistory, (records) => {
        const merged = mergeRecords(records);
        for (const record of records) {
          for (const { path, value } of record.changes) {
            if (value === undefined) continue;
            const seen = records.some((r) =>
              r.changes.some((c) => path.startsWith(c.path) && c.replaces.includes(record.id)),
            );
            // Of two order numbers one stands, whichever: the element is there.
            const stands =
              canonicalJson(merged.standing.get(path) ?? null) === canonicalJson(value) ||
              (isElementPath(path) && typeof merged.standing.get(path) === 'number');
            const shown = merged.conflicts.some(
              (c) => (path === c.path || path.startsWith(`${c.path}/`)) && c.sides.some((s) => s.record === record.id),
            );
            expect(seen || stands || shown, `${record.id} ${path}`).toBe(true);
          }
        }
      }),
    );
  });

  test('what a person saves is what they see, and saving it again records nothing', () => {
    fc.assert(
      fc.property(anyHistory, anyDocument, (records, next) => {
        const before = mergeRecords(records);
        const changes = editThing(before, next);
        const after = changes.length === 0 ? before : mergeRecords([...records, madeRecord(999, { changes })]);
        if (before.conflicts.length === 0) expect(after.document).toEqual(next);
        expect(editThing(after, after.document)).toEqual([]);
      }),
    );
  });

  test('every record made by editing passes the check at the door', () => {
    fc.assert(
      fc.property(anyHistory, (records) => {
        for (const record of records) expect(recordSchema.parse(JSON.parse(JSON.stringify(record)))).toEqual(record);
      }),
    );
  });

  test('nothing recorded is nothing', () => {
    expect(plain(mergeRecords([]))).toBe(plain(NOTHING_YET));
  });
});
