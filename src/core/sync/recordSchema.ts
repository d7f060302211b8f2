import { z } from 'zod';
import { type ChangeRecord, RECORD_SCHEMA, THING_KINDS } from './changeRecord.ts';
import type { Json } from './json.ts';

const id = z.string().regex(/^[A-Za-z0-9][A-Za-z0-9._:-]{0,127}$/, 'letters, digits and . _ : - only, at most 128');

const json: z.ZodType<Json> = z.json();

const change = z.strictObject({
  path: z
    .string()
    .max(1000)
    .regex(/^(\/[^/]*)*$/, 'a path is empty or begins with /')
    .describe('JSON Pointer; [id] names a list element'),
  value: json.optional().describe('absent: the value is removed'),
  replaces: z.array(z.uuid()).max(10_000).describe('records whose value here was on screen and is replaced'),
});

/** Checks one record from outside. Sizes are bounded here; how many may come at once is bounded at the door. */
export const recordSchema = z
  .strictObject({
    schema: z.literal(RECORD_SCHEMA),
    id: z.uuid(),
    device: id,
    sequence: z.int().positive(),
    author: z.string().max(200).regex(/\S/, 'a name'),
    at: z.iso.datetime({ precision: 3 }),
    kind: z.enum(THING_KINDS),
    thing: id,
    parents: z.array(z.uuid()).max(1000),
    changes: z.array(change).min(1).max(20_000),
  })
  .superRefine((record, context) => {
    if (new Set(record.changes.map((c) => c.path)).size < record.changes.length) {
      context.addIssue({ code: 'custom', path: ['changes'], message: 'one change for each path' });
    }
    if (record.parents.includes(record.id) || record.changes.some((c) => c.replaces.includes(record.id))) {
      context.addIssue({ code: 'custom', path: ['changes'], message: 'a record cannot come before itself' });
    }
    if (record.kind === 'detections' && !isOneWholeDocument(record)) {
      const message =
        'machine detections are one record: thing equals id, one change at the root path, nothing replaced';
      context.addIssue({ code: 'custom', path: ['changes'], message });
    }
  }) as z.ZodType<ChangeRecord>;

function isOneWholeDocument(record: { id: string; thing: string; changes: ReadonlyArray<z.infer<typeof change>> }) {
  const [only] = record.changes;
  const whole = only?.path === '' && only.value !== undefined && only.replaces.length === 0;
  return record.changes.length === 1 && whole && record.thing === record.id;
}
