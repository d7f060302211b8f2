import { createRoute, z } from '@hono/zod-openapi';
import type { AppDeps } from '../appDeps.ts';
import { listThings } from '../store/listThings.ts';
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
    const newest = async (kind: 'visit' | 'planting', field: string) => {
      const [row] = (await listThings(db, kind, { field }, { limit: 1 })).items;
      return row === undefined ? null : toldRow(row);
    };
    const told = [];
    for (const row of items) {
      told.push({
        field: toldRow(row),
        visit: await newest('visit', row.id),
        planting: await newest('planting', row.id),
      });
    }
    return c.json({ items: told, total, next }, 200);
  });
