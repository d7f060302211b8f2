import * as z from 'zod/mini';
import type { Outcome } from '../faults/outcome.ts';
import { cannot } from '../faults/outcome.ts';
import { overlayTargets, type TargetChange } from '../targets/overlayTargets.ts';
import type { TargetRow } from '../targets/targetRow.ts';
import { TARGET_ROWS } from '../targets/targetRows.ts';
import { plainIssue } from './plainIssue.ts';
import { quantityIn } from './quantity.ts';
import { id, quantity, words } from './schemaParts.ts';

export const TARGETS_SCHEMA = 'rowledger/targets@1';
/** An archive is one organisation's: its targets are one thing under this id, merged row by row. */
export const TARGETS_ID = 'own';

/**
 * What an organisation lays over the table of targets, as its people write it: rows of its own, asked first, and rows
 * of the table taken out by their id.
 */
export const targetsSchema = z.strictObject({
  schema: z.literal(TARGETS_SCHEMA),
  /** What the rows are called in a verdict, such as the name of the organisation. */
  name: words.check(z.minLength(1)),
  rows: z.array(
    z.strictObject({
      id,
      marketClass: words.check(z.minLength(1)),
      habit: z.optional(z.enum(['I', 'II', 'III'])),
      /** Both ends of the row widths it is for; without it, for every width. */
      rowWidth: z.optional(z.strictObject({ from: quantity('length'), to: quantity('length') })),
      of: z.enum(['plants', 'seeds']),
      low: quantity('density'),
      high: quantity('density'),
      ideal: z.optional(quantity('density')),
    }),
  ),
  without: z.optional(z.array(id)),
});

export type TargetsDocument = z.infer<typeof targetsSchema>;
export type OwnTarget = TargetsDocument['rows'][number];

export const NO_TARGETS: TargetsDocument = { schema: TARGETS_SCHEMA, name: 'Own targets', rows: [] };

/** The table with an organisation's rows laid over it. Refuses by the name of the place. */
export function readTargets(raw: unknown): Outcome<readonly TargetRow[]> {
  const parsed = targetsSchema.safeParse(raw, { error: plainIssue });
  if (!parsed.success) {
    const found = parsed.error.issues
      .slice(0, 5)
      .map((issue) => `${issue.path.join('.') || 'targets'}: ${issue.message}`);
    return cannot('not valid', found.join('; '), `targets as "${TARGETS_SCHEMA}"`, 'Correct the named places.');
  }
  const { name, rows, without = [] } = parsed.data;
  const changes: TargetChange[] = [
    ...without.map((row) => ({ kind: 'remove' as const, id: row })),
    ...rows.map((row) => ({ kind: 'put' as const, row: rowOf(name, row) })),
  ];
  return overlayTargets(TARGET_ROWS, changes);
}

/** The same from the text of a file. */
export function readTargetsText(text: string): Outcome<readonly TargetRow[]> {
  try {
    return readTargets(JSON.parse(text));
  } catch {
    return cannot('not json', 'text that is not JSON', `targets as "${TARGETS_SCHEMA}"`, 'Choose another file.');
  }
}

function rowOf(set: string, row: OwnTarget): Omit<TargetRow, 'source'> {
  const perM2 = (text: string) => quantityIn(text, 'density') ?? 0;
  const metres = (text: string) => quantityIn(text, 'length') ?? 0;
  return {
    id: row.id,
    set,
    audience: { marketClass: row.marketClass },
    habit: row.habit ?? null,
    rowWidthM: row.rowWidth === undefined ? null : { from: metres(row.rowWidth.from), to: metres(row.rowWidth.to) },
    of: row.of,
    low: perM2(row.low),
    high: perM2(row.high),
    ...(row.ideal === undefined ? {} : { ideal: perM2(row.ideal) }),
    unit: 'perSquareMetre',
  };
}
