import * as z from 'zod/mini';
import { id, quantity, wholeCount } from './schemaParts.ts';

/** Plants in a measured length of one row or of several adjacent rows, one number for each row. */
const rowCount = z.strictObject({
  id,
  kind: z.literal('rows'),
  length: quantity('length'),
  plants: z.array(wholeCount).check(z.minLength(1), z.maxLength(48)),
  /** Bare runs of row inside the length, of all its rows together, where somebody measured them. */
  gaps: z.optional(z.array(quantity('length'))),
  /** Plant by plant readings of the tape along the first row, where somebody noted them. */
  readings: z.optional(z.array(quantity('length'))),
});

const hoopCount = z.strictObject({
  id,
  kind: z.literal('hoop'),
  insideDiameter: quantity('length'),
  plants: wholeCount,
});

const quadratCount = z.strictObject({
  id,
  kind: z.literal('quadrat'),
  width: quantity('length'),
  length: quantity('length'),
  plants: wholeCount,
});

/** What a photo count needs to be used here; everything else in it is kept as it came. */
const photoResult = z.looseObject({
  schema: z.literal('rowledger/count@1'),
  photo: z.looseObject({ file: z.string(), sha256: z.string() }),
  stretch: z.nullable(z.looseObject({ fromM: z.number(), toM: z.number(), lengthM: z.number() })),
  plants: z.array(
    z.looseObject({
      id,
      alongM: z.nullable(z.number()),
      kind: z.enum(['plant', 'weed', 'unsure']),
      inStretch: z.boolean(),
      confidence: z.number(),
    }),
  ),
  count: z.looseObject({ value: z.number(), low: z.number(), high: z.number(), level: z.number() }),
  gaps: z.array(z.looseObject({ lengthM: z.number() })),
});

const photoCount = z.strictObject({ id, kind: z.literal('photo'), result: photoResult });

export const countSchema = z.discriminatedUnion('kind', [rowCount, hoopCount, quadratCount, photoCount]);

const pixel = z.number();

/** A change a person made to one count. Counts and detections stay as they were; these are replayed on top, in order. */
export const changeSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('confirm plant'), plantId: id }),
  z.strictObject({ kind: z.literal('remove plant'), plantId: id }),
  z.strictObject({ kind: z.literal('name plant'), plantId: id, as: z.enum(['plant', 'weed', 'unsure']) }),
  z.strictObject({ kind: z.literal('mark damaged'), plantId: id, damaged: z.boolean() }),
  z
    .strictObject({
      kind: z.literal('add plant'),
      plantId: id,
      along: z.optional(quantity('length')),
      xPx: z.optional(pixel),
      yPx: z.optional(pixel),
    })
    .check(
      z.refine(({ along, xPx, yPx }) => along !== undefined || (xPx !== undefined && yPx !== undefined), {
        error: 'an added plant needs its place: along, or xPx and yPx',
      }),
    ),
  z.strictObject({ kind: z.literal('move plant'), plantId: id, xPx: pixel, yPx: pixel }),
  z.strictObject({ kind: z.literal('split plant'), plantId: id }),
  z.strictObject({ kind: z.literal('merge plants'), plantId: id, otherId: id }),
  z.strictObject({ kind: z.literal('move reading'), readingM: z.number(), xPx: pixel, yPx: pixel }),
  z.strictObject({ kind: z.literal('check photo') }),
  z.strictObject({ kind: z.literal('undo'), correctionId: id }),
  z.strictObject({ kind: z.literal('redo'), correctionId: id }),
  z.strictObject({ kind: z.literal('set row plants'), row: z.int().check(z.minimum(0)), plants: wholeCount }),
  z.strictObject({ kind: z.literal('set plants'), plants: wholeCount }),
  z.strictObject({ kind: z.literal('leave out') }),
]);

export type VisitCount = z.infer<typeof countSchema>;
export type VisitChange = z.infer<typeof changeSchema>;
export type PhotoResult = z.infer<typeof photoResult>;
