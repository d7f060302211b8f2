import { createRoute, z } from '@hono/zod-openapi';
import type { AppDeps } from '../appDeps.ts';
import { readOwnTargets } from '../store/ownTargets.ts';
import { gives, router } from './parts.ts';

const own = z.object({ targets: z.unknown().describe('rowledger/targets@1, or null where the table stands as it is') });

const ask = createRoute({
  method: 'get',
  path: '/api/targets',
  summary: 'The targets of this organisation, laid over the table',
  description: 'Changed by records of the kind "targets", as everything else is: see /api/sync.',
  responses: gives(own, 'Its targets'),
});

export const targetRoutes = ({ db }: AppDeps) =>
  router().openapi(ask, async (c) => c.json({ targets: (await readOwnTargets(db)) as unknown }, 200));
