import { createRoute, z } from '@hono/zod-openapi';
import type { AppDeps } from '../appDeps.ts';
import { listThings } from '../store/listThings.ts';
import { recordsOf } from '../store/materialize.ts';
import { readThing } from '../store/readThing.ts';
import { day, gives, listedKind, name, record, router, thingRow, wholeThing } from './parts.ts';
import { toldRow, toldThing } from './rows.ts';

const filter = z.object({
  farm: name.optional(),
  field: name.optional(),
  visit: name.optional(),
  season: name.optional(),
  class: name.optional().openapi({ description: 'market class' }),
  verdict: name.optional(),
  from: day.optional().openapi({ description: 'first day' }),
  to: day.optional().openapi({ description: 'last day' }),
  search: name.optional().openapi({ description: 'words found in the thing, its field or its farm' }),
  conflicts: z.literal('open').optional(),
  limit: z.coerce.number().int().min(1).max(200).default(50),
  after: z.string().max(1000).optional().openapi({ description: '"next" of the page before' }),
});

const list = createRoute({
  method: 'get',
  path: '/api/things/{kind}',
  summary: 'Search and filter, newest first, page by page',
  request: { params: z.object({ kind: listedKind }), query: filter },
  responses: gives(
    z.object({ items: z.array(thingRow), total: z.number().int(), next: z.string().nullable() }),
    'One page',
  ),
});

const one = createRoute({
  method: 'get',
  path: '/api/things/{kind}/{id}',
  summary: 'One thing: its document as it stands and its open conflicts',
  request: { params: z.object({ kind: listedKind, id: name }) },
  responses: gives(wholeThing, 'The thing'),
});

const history = createRoute({
  method: 'get',
  path: '/api/things/{kind}/{id}/records',
  summary: 'Everything anybody ever recorded about one thing, in order of arrival',
  request: { params: z.object({ kind: listedKind.exclude(['spot']), id: name }) },
  responses: gives(z.object({ records: z.array(record) }), 'The records'),
});

export const thingRoutes = ({ db }: AppDeps) =>
  router()
    .openapi(list, async (c) => {
      const { limit, after, conflicts, ...rest } = c.req.valid('query');
      const wanted = { ...rest, conflicts: conflicts === 'open' };
      const { items, total, next } = await listThings(db, c.req.valid('param').kind, wanted, { limit, after });
      return c.json({ items: items.map(toldRow), total, next }, 200);
    })
    .openapi(one, async (c) => {
      const { kind, id } = c.req.valid('param');
      return c.json(toldThing(await readThing(db, kind, id)), 200);
    })
    .openapi(history, async (c) => {
      const { kind, id } = c.req.valid('param');
      return c.json({ records: (await recordsOf(db, kind, id)) as never[] }, 200);
    });
