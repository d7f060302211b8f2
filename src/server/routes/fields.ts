import { createRoute, z } from '@hono/zod-openapi';
import type { AppDeps } from '../appDeps.ts';
import { listThings, type ThingRow } from '../store/listThings.ts';
import { newestOf } from '../store/newestOf.ts';
import { gives, name, router, thingRow } from './parts.ts';
import { toldRow } from './rows.ts';

const fields = createRoute({
  method: 'get',
  path: '/api/fields',
  summary: 'Fields, each with its newest visit and planting',
  request: {
    query: z.object({
      farm: name.optional(),
      search: name.optional(),
      limit: z.coerce.number().int().min(1).max(200).default(50),
      after: z.string().max(1000).optional(),
    }),
  },
  responses: gives(
    z.object({
      items: z.array(z.object({ field: thingRow, visit: thingRow.nullable(), planting: thingRow.nullable() })),
      total: z.number().int(),
      next: z.string().nullable(),
    }),
    'One page',
  ),
});

export const fieldRoutes = ({ db }: AppDeps) =>
  router().openapi(fields, async (c) => {
    const { limit, after, ...filter } = c.req.valid('query');
    const { items, total, next } = await listThings(db, 'field', filter, { limit, after });
    const ids = items.map((row) => row.id);
    const [visits, plantings] = [await newestOf(db, 'visit', ids), await newestOf(db, 'planting', ids)];
    const toldOf = (rows: ReadonlyMap<string, ThingRow>, id: string) => {
      const row = rows.get(id);
      return row === undefined ? null : toldRow(row);
    };
    const told = items.map((row) => ({
      field: toldRow(row),
      visit: toldOf(visits, row.id),
      planting: toldOf(plantings, row.id),
    }));
    return c.json({ items: told, total, next }, 200);
  });
