import { createRoute, z } from '@hono/zod-openapi';
import type { AppDeps } from '../appDeps.ts';
import { gives, router } from './parts.ts';

const status = createRoute({
  method: 'get',
  path: '/api/status',
  summary: 'What this server is and how much it holds',
  responses: gives(
    z.object({
      version: z.string(),
      archive: z.string(),
      records: z.number().int(),
      visits: z.number().int(),
      photos: z.number().int(),
      conflicts: z.number().int().describe('things with open conflicts'),
    }),
    'The state of the archive',
  ),
});

export const statusRoutes = ({ db, archiveId, version }: AppDeps) =>
  router().openapi(status, async (c) => {
    const count = async (from: 'record' | 'photo_file') =>
      (
        await db
          .selectFrom(from)
          .select((eb) => eb.fn.countAll<number>().as('n'))
          .executeTakeFirstOrThrow()
      ).n;
    const things = db.selectFrom('thing').select((eb) => eb.fn.countAll<number>().as('n'));
    const visits = await things.where('kind', '=', 'visit').where('removed', '=', 0).executeTakeFirstOrThrow();
    const conflicts = await things.where('conflicts', '>', 0).executeTakeFirstOrThrow();
    return c.json(
      {
        version,
        archive: archiveId,
        records: await count('record'),
        visits: visits.n,
        photos: await count('photo_file'),
        conflicts: conflicts.n,
      },
      200,
    );
  });
