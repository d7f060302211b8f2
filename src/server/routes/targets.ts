import { createRoute, z } from '@hono/zod-openapi';
import { inOneLine } from '../../core/faults/outcome.ts';
import { readTargets, type TargetsDocument } from '../../core/visit/targetsDocument.ts';
import type { AppDeps } from '../appDeps.ts';
import { fault } from '../faults.ts';
import { readOwnTargets, refileVerdicts, writeOwnTargets } from '../store/ownTargets.ts';
import { gives, router } from './parts.ts';

const own = z.object({ targets: z.unknown().describe('rowledger/targets@1, or null where the table stands as it is') });

const ask = createRoute({
  method: 'get',
  path: '/api/targets',
  summary: 'The targets of this organisation, laid over the table',
  responses: gives(own, 'Its targets'),
});

const put = createRoute({
  method: 'post',
  path: '/api/targets',
  summary: 'Lay other targets over the table',
  description: 'Takes the place of those before. Visits are filed anew under the verdicts they then have.',
  request: {
    body: {
      required: true,
      content: {
        'application/json': {
          schema: z.object({ schema: z.literal('rowledger/targets@1') }).catchall(z.unknown()),
        },
      },
    },
  },
  responses: gives(own, 'As they now stand'),
});

export const targetRoutes = ({ db, report }: AppDeps) => {
  // One run after another: the last one files with the targets of the last change.
  let filing: Promise<unknown> = Promise.resolve();
  return router()
    .openapi(ask, async (c) => c.json({ targets: (await readOwnTargets(db)) as unknown }, 200))
    .openapi(put, async (c) => {
      const targets = c.req.valid('json') as unknown as TargetsDocument;
      const read = readTargets(targets);
      if (!read.ok) throw fault('bad-request', inOneLine(read));
      await writeOwnTargets(db, targets);
      filing = filing.then(() => refileVerdicts(db)).catch(report);
      return c.json({ targets: targets as unknown }, 200);
    });
};
