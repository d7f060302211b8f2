import * as z from 'zod/mini';
import { cannot, good, type Outcome } from '../faults/outcome.ts';
import { readHeads } from '../learning/headsDocument.ts';
import { stockSchema } from '../learning/stockMarks.ts';
import type { ThingKind } from '../sync/changeRecord.ts';
import type { Json } from '../sync/json.ts';
import { readVisit } from '../visit/readVisit.ts';
import { id, instant, position, quantity, words } from '../visit/schemaParts.ts';
import { readTargets } from '../visit/targetsDocument.ts';
import { visitSchema } from '../visit/visitSchema.ts';

const sha256 = z.string().check(z.regex(/^[0-9a-f]{64}$/));

const farm = z.extend(visitSchema.shape.farm, { schema: z.literal('rowledger/farm@1') });

const field = z.extend(visitSchema.shape.field, { schema: z.literal('rowledger/field@1'), farmId: z.optional(id) });

const planting = z.extend(visitSchema.shape.planting, {
  schema: z.literal('rowledger/planting@1'),
  fieldId: id,
  season: visitSchema.shape.season,
});

/** A dated photo of a stand. Its `id` is its SHA-256; the file itself travels apart. */
const photo = z.strictObject({
  schema: z.literal('rowledger/photo@1'),
  id: sha256,
  visitId: z.optional(id),
  spotId: z.optional(id),
  fieldId: z.optional(id),
  takenAt: z.optional(instant),
  position: z.optional(position),
  /** Unit vector of gravity in camera axes, x right, y down, z into the scene, where the phone recorded it. */
  gravity: z.optional(z.tuple([z.number(), z.number(), z.number()])),
  rowWidth: z.optional(quantity('length')),
  note: z.optional(words),
});

/** What one version of the machine found in one photo. */
const detections = z.strictObject({
  schema: z.literal('rowledger/detections@1'),
  photo: sha256,
  model: z.strictObject({ name: words, version: words }),
  code: words,
  at: instant,
  result: z.looseObject({ schema: z.literal('rowledger/count@1') }),
  /** What the detector without a head said of the same marks, to learn from. */
  stock: z.optional(stockSchema),
});

const SCHEMAS = { farm, field, planting, photo, detections };

export type FarmDocument = z.infer<typeof farm>;
export type FieldDocument = z.infer<typeof field>;
export type PlantingDocument = z.infer<typeof planting>;
export type PhotoDocument = z.infer<typeof photo>;
export type DetectionsDocument = z.infer<typeof detections>;

/** Checks a document of the archive; visits, heads and targets by their own readers. The refusal names the place. */
export function readDocument(kind: ThingKind, raw: Json): Outcome<unknown> {
  if (kind === 'visit') return readVisit(raw);
  if (kind === 'heads') return readHeads(raw);
  if (kind === 'targets') return readTargets(raw);
  const parsed = SCHEMAS[kind].safeParse(raw);
  if (parsed.success) return good(parsed.data);
  const issues = parsed.error.issues.slice(0, 5).map((issue) => `${issue.path.join('.') || kind}: ${issue.message}`);
  return cannot('not valid', issues.join('; '), `a ${kind} that fits its schema`, 'Correct the named places.');
}
