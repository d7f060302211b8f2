import { OpenAPIHono, z } from '@hono/zod-openapi';
import { THING_KINDS } from '../../core/sync/changeRecord.ts';
import { FAULTS, type FaultCode, fault } from '../faults.ts';

/** A router whose failed checks of a request are told in the words of the table of faults. */
export function router(): OpenAPIHono {
  return new OpenAPIHono({
    defaultHook: (result) => {
      if (result.success) return;
      const [issue] = result.error.issues;
      const place = issue?.path.join('.') ?? '';
      throw fault('bad-request', `${place === '' ? 'the request' : place}: ${issue?.message ?? 'not as described'}`);
    },
  });
}

export const sha256 = z
  .string()
  .regex(/^[0-9a-f]{64}$/, '64 hexadecimal digits in lower case')
  .openapi({
    description: 'SHA-256 of the photo',
    example: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855',
  });

export const name = z.string().min(1).max(200);

export const day = z.iso.date();

export const listedKind = z.enum([...THING_KINDS, 'spot']);

export const faultBody = z
  .object({
    error: z.object({
      code: z.enum(Object.keys(FAULTS) as [FaultCode, ...FaultCode[]]),
      found: z.string(),
      wanted: z.string(),
      next: z.string().describe('what to do next'),
      message: z.string(),
      facts: z.record(z.string(), z.union([z.string(), z.number(), z.null()])),
    }),
  })
  .openapi('Fault');

/** The answer of a route. How any route refuses is added to the interface description once, for all. */
export function gives<T extends z.ZodType>(schema: T, description: string) {
  return { 200: { description, content: { 'application/json': { schema } } } } as const;
}

/** The answer of a route that gives bytes. */
export function givesBytes(type: string, description: string) {
  return { 200: { description, content: { [type]: { schema: z.string().openapi({ format: 'binary' }) } } } };
}

const nullable = z.string().nullable();

export const thingRow = z
  .object({
    kind: listedKind,
    id: z.string(),
    title: z.string(),
    date: nullable,
    season: nullable,
    class: nullable.describe('market class'),
    verdict: nullable,
    farm: nullable,
    farmName: nullable,
    field: nullable,
    fieldName: nullable,
    planting: nullable,
    visit: nullable,
    spot: nullable,
    photo: nullable.describe('SHA-256'),
    latitude: z.number().nullable(),
    longitude: z.number().nullable(),
    conflicts: z.number().int().describe('open conflicts'),
    problem: nullable.describe('why the document cannot be used as it stands'),
    author: z.string(),
    updatedAt: z.string(),
  })
  .openapi('ThingRow');

export const conflict = z
  .object({
    path: z.string(),
    sides: z
      .array(
        z.object({
          record: z.string(),
          author: z.string(),
          device: z.string(),
          at: z.string(),
          value: z.unknown().describe('absent: removed'),
          replaces: z.array(z.string()),
        }),
      )
      .describe('the first one stands in the document'),
  })
  .openapi('Conflict');

export const wholeThing = z
  .object({ row: thingRow, document: z.unknown(), conflicts: z.array(conflict) })
  .openapi('WholeThing');

export const record = z
  .object({
    schema: z.literal('rowledger/record@1'),
    id: z.string(),
    device: z.string(),
    sequence: z.number().int(),
    author: z.string(),
    at: z.string(),
    kind: z.enum(THING_KINDS),
    thing: z.string(),
    parents: z.array(z.string()),
    changes: z.array(z.object({ path: z.string(), value: z.unknown(), replaces: z.array(z.string()) })),
  })
  .openapi('Record');
