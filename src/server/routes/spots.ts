import { createRoute, z } from '@hono/zod-openapi';
import { type SpotMatch, sameSpot } from '../../core/archive/sameSpot.ts';
import { isJsonObject, type Json } from '../../core/sync/json.ts';
import type { AppDeps } from '../appDeps.ts';
import { fault } from '../faults.ts';
import { listThings, type ThingRow, withNames } from '../store/listThings.ts';
import { readThing } from '../store/readThing.ts';
import type { Database } from '../store/tables.ts';
import { gives, name, router, thingRow } from './parts.ts';
import { toldRow } from './rows.ts';

const match = z
  .object({ by: z.enum(['position', 'name']), distanceM: z.number().nullable() })
  .describe('why it is taken for the same place; by name is the weaker');

const spotOnDate = z
  .object({
    spot: thingRow,
    document: z.unknown().describe('the spot as its visit holds it, with its counts'),
    corrections: z.array(z.unknown()).describe('what people changed in its counts'),
    photos: z.array(thingRow),
  })
  .openapi('SpotOnDate');

const dates = createRoute({
  method: 'get',
  path: '/api/spots/{visit}/{spot}/dates',
  summary: 'The same spot in other visits to the field, newest first',
  request: { params: z.object({ visit: name, spot: name }) },
  responses: gives(
    z.object({ dates: z.array(z.object({ spot: thingRow, match: match.nullable() })) }),
    'Every date, the asked one too',
  ),
});

const pair = createRoute({
  method: 'get',
  path: '/api/spots/pair',
  summary: 'Two dates of one spot, for showing side by side',
  request: {
    query: z.object({
      first: z.string().max(401).openapi({ description: 'VISIT/SPOT' }),
      second: z.string().max(401).openapi({ description: 'VISIT/SPOT' }),
    }),
  },
  responses: gives(
    z.object({
      first: spotOnDate,
      second: spotOnDate,
      match: match.nullable().describe('null: nothing says that these are the same place'),
    }),
    'Both, the earlier one first',
  ),
});

export const spotRoutes = ({ db }: AppDeps) =>
  router()
    .openapi(dates, async (c) => {
      const { visit, spot } = c.req.valid('param');
      const { row } = await readThing(db, 'spot', `${visit}/${spot}`);
      const others = await listThings(db, 'spot', { field: row.field ?? '' }, { limit: 5000 });
      const found = others.items.flatMap((other): { spot: ThingRow; match: SpotMatch | null }[] => {
        if (other.id === row.id) return [{ spot: other, match: null }];
        const same = other.visit === row.visit ? null : sameSpot(row, other);
        return same === null ? [] : [{ spot: other, match: same }];
      });
      return c.json({ dates: found.map((one) => ({ spot: toldRow(one.spot), match: one.match })) }, 200);
    })
    .openapi(pair, async (c) => {
      const { first, second } = c.req.valid('query');
      if (first === second) throw fault('bad-request', `${first} twice`, { wanted: 'two visits to one spot' });
      const both = [await onDate(db, first), await onDate(db, second)] as const;
      const [a, b] = (both[0].row.date ?? '') <= (both[1].row.date ?? '') ? both : ([both[1], both[0]] as const);
      const sameField = a.row.field !== null && a.row.field === b.row.field;
      return c.json({ first: a.told, second: b.told, match: sameField ? sameSpot(a.row, b.row) : null }, 200);
    });

async function onDate(db: Database, id: string) {
  const { row } = await readThing(db, 'spot', id);
  const { document: visit } = await readThing(db, 'visit', row.visit ?? '');
  const document = listed(visit, 'spots').find((spot) => spot.id === row.spot) ?? null;
  const counts = new Set(listed(document, 'counts').map((count) => count.id));
  const corrections = listed(visit, 'corrections').filter((one) => counts.has(one.countId as string));
  const photos = await db
    .selectFrom('thing')
    .selectAll()
    .where('visit', '=', row.visit)
    .where('kind', '=', 'photo')
    .where('spot', '=', row.spot)
    .orderBy('date')
    .execute();
  const told = {
    spot: toldRow(row),
    document: document as unknown,
    corrections: corrections as unknown[],
    photos: (await withNames(db, photos)).map(toldRow),
  };
  return { row, told };
}

function listed(document: Json, key: string) {
  const list = isJsonObject(document) ? document[key] : null;
  return (Array.isArray(list) ? list : []).filter(isJsonObject);
}
