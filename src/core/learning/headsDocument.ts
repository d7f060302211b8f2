import * as z from 'zod/mini';
import { cannot, good, type Outcome } from '../faults/outcome.ts';
import { headSchema } from './head.ts';
import { headId } from './headId.ts';
import type { HeadShelf } from './headShelf.ts';

const SCHEMA = 'rowledger/heads@1';

const instant = z.iso.datetime({ offset: true });
const change = z.strictObject({
  id: z.string().check(z.minLength(1), z.maxLength(120)),
  at: instant,
  by: z.string(),
  inUse: z.nullable(z.string()),
});

/** The document that carries a farm's heads in an archive; its name there is the farm's. */
const headsSchema = z.strictObject({
  schema: z.literal(SCHEMA),
  heads: z.array(headSchema),
  changes: z.array(change),
});

export type HeadsDocument = z.infer<typeof headsSchema>;

/** The shelf as a document: plain JSON. */
export function writeHeads({ heads, changes }: HeadShelf): HeadsDocument {
  return { schema: SCHEMA, heads: [...heads], changes: [...changes] };
}

/** A shelf from what a file or store holds; refuses what does not fit, names twice, and heads altered after training. */
export function readHeads(raw: unknown): Outcome<HeadShelf> {
  const refuse = (found: string, code = 'not heads') =>
    cannot(code, found, `a "${SCHEMA}" document`, 'Use the stock detector, or learn anew from the corrections.');
  const parsed = headsSchema.safeParse(raw);
  if (!parsed.success) {
    return refuse(
      parsed.error.issues
        .slice(0, 5)
        .map((issue) => `${issue.path.join('.') || 'document'}: ${issue.message}`)
        .join('; '),
    );
  }
  const { heads, changes } = parsed.data;
  const altered = heads.find((head) => headId(head) !== head.id);
  if (altered !== undefined)
    return refuse(`head ${altered.id}: its numbers are not those it was named for`, 'altered head');
  const ids = new Set(heads.map(({ id }) => id));
  if (ids.size < heads.length) return refuse('one head twice');
  const missing = changes.map(({ inUse }) => inUse).find((id) => id !== null && !ids.has(id));
  if (missing !== undefined) return refuse(`head ${missing} is named but not there`, 'missing head');
  return good({ heads, changes });
}
