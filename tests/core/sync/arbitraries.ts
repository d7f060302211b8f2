import fc from 'fast-check';
import type { ChangeRecord } from '../../../src/core/sync/changeRecord.ts';
import { editThing } from '../../../src/core/sync/editThing.ts';
import type { Json } from '../../../src/core/sync/json.ts';
import { mergeRecords } from '../../../src/core/sync/mergeRecords.ts';

/** Keys and ids that include everything the path syntax treats specially. */
const word = fc.constantFrom('a', 'b', 'count', 'x/y', '~', '~1', '[a]', '[', '', 'id2', '__proto__');
const leaf: fc.Arbitrary<Json> = fc.oneof(
  fc.integer({ min: 0, max: 4 }),
  fc.constantFrom<Json>(null, true, '', 'kept', [], {}, [1, 2], [{ id: 'one' }, 3], { schema: 'x@1', n: 1 }),
);

/** Small documents like the ones kept: objects, lists of things with ids, lists of plain values. */
export const anyDocument: fc.Arbitrary<Json> = fc.letrec<{ value: Json; object: Json; list: Json }>((tie) => ({
  value: fc.oneof({ maxDepth: 3 }, leaf, tie('object'), tie('list')),
  object: fc
    .uniqueArray(fc.tuple(word, tie('value')), { maxLength: 3, selector: ([k]) => k })
    .map((pairs) => Object.fromEntries(pairs) as Json),
  list: fc
    .uniqueArray(fc.tuple(word, tie('object')), { maxLength: 3, selector: ([id]) => id })
    .map((pairs) => pairs.map(([id, fields]) => ({ ...(fields as object), id })) as Json),
})).object;

type Step =
  | { readonly kind: 'edit'; readonly device: number; readonly next: Json; readonly minute: number }
  | { readonly kind: 'pull'; readonly device: number; readonly from: number };

/** What several people do to one thing: edit what they see, and now and then receive what another one has. */
export const anyHistory: fc.Arbitrary<readonly ChangeRecord[]> = fc
  .array(
    fc.oneof(
      fc.record({ kind: fc.constant('edit' as const), device: fc.nat(2), next: anyDocument, minute: fc.nat(3) }),
      fc.record({ kind: fc.constant('pull' as const), device: fc.nat(2), from: fc.nat(2) }),
    ),
    { maxLength: 12 },
  )
  .map(play);

function play(steps: readonly Step[]): readonly ChangeRecord[] {
  const held: ChangeRecord[][] = [[], [], []];
  const made: ChangeRecord[] = [];
  for (const step of steps) {
    const own = held[step.device] as ChangeRecord[];
    if (step.kind === 'pull') {
      for (const record of held[step.from] as ChangeRecord[]) if (!own.includes(record)) own.push(record);
      continue;
    }
    const now = mergeRecords(own);
    const changes = editThing(now, step.next);
    if (changes.length === 0) continue;
    const record = madeRecord(made.length + 1, {
      device: `phone-${step.device}`,
      author: `Person ${step.device}`,
      at: `2026-06-01T10:0${step.minute}:00.000Z`,
      parents: now.frontier,
      changes,
    });
    own.push(record);
    made.push(record);
  }
  return made;
}

export function madeRecord(number: number, parts: Partial<ChangeRecord>): ChangeRecord {
  return {
    schema: 'rowledger/record@1',
    id: `00000000-0000-4000-8000-${String(number).padStart(12, '0')}`,
    device: 'phone-0',
    sequence: number,
    author: 'Person 0',
    at: '2026-06-01T10:00:00.000Z',
    kind: 'visit',
    thing: 'visit-1',
    parents: [],
    changes: [],
    ...parts,
  };
}
