import { createRoute, z } from '@hono/zod-openapi';
import type { AppDeps } from '../appDeps.ts';
import { FAULTS, type FaultCode } from '../faults.ts';
import { acceptRecords } from '../store/acceptRecords.ts';
import { pullRecords } from '../store/pullRecords.ts';
import { gives, name, record, router } from './parts.ts';

const sync = createRoute({
  method: 'post',
  path: '/api/sync',
  summary: 'Send what this device recorded, receive what it lacks',
  description:
    'Records are accepted each once, however often they come. The answer may be lost: send the same again. ' +
    'A refused record does not hold up the others.',
  request: {
    body: {
      required: true,
      content: {
        'application/json': {
          schema: z.object({
            records: z.array(z.unknown()).max(500).describe('see Record'),
            device: name.optional().describe('to be told how many records of it are here'),
            after: z.string().max(100).nullable().describe('"cursor" of the last answer; null at first'),
            limit: z.number().int().min(0).max(1000).default(500),
            scope: z
              .object({ season: name.optional(), field: name.optional(), detections: z.boolean().optional() })
              .default({}),
          }),
        },
      },
    },
  },
  responses: gives(
    z.object({
      accepted: z.array(z.string()),
      known: z.array(z.string()).describe('were here already'),
      refused: z.array(
        z.object({
          id: z.string(),
          code: z.enum(Object.keys(FAULTS) as [FaultCode, ...FaultCode[]]),
          message: z.string(),
        }),
      ),
      records: z.array(record),
      cursor: z.string(),
      more: z.boolean().describe('ask again at once'),
      device: z
        .object({ records: z.number().int(), lastSequence: z.number().int() })
        .nullable()
        .describe('equal numbers: everything this device made has arrived'),
    }),
    'What became of the records, and the next ones',
  ),
});

/** @param refile is told when other targets came in. */
export const syncRoutes = ({ db, archiveId, now }: AppDeps, refile: () => void) =>
  router().openapi(sync, async (c) => {
    const { records, after, limit, scope, device } = c.req.valid('json');
    const acceptance = await acceptRecords(db, records, now());
    if (acceptance.targets) refile();
    const pull = await pullRecords(db, archiveId, after, limit, scope);
    const held =
      device === undefined
        ? null
        : await db
            .selectFrom('record')
            .select((eb) => [eb.fn.count<number>('sequence').distinct().as('records')])
            .select((eb) => eb.fn.max<number | null>('sequence').as('last'))
            .where('device', '=', device)
            .executeTakeFirstOrThrow();
    return c.json(
      {
        accepted: [...acceptance.accepted],
        known: [...acceptance.known],
        refused: [...acceptance.refused],
        records: pull.records as never[],
        cursor: pull.cursor,
        more: pull.more,
        device: held === null ? null : { records: held.records, lastSequence: held.last ?? 0 },
      },
      200,
    );
  });
