import { createRoute, z } from '@hono/zod-openapi';
import type { AppDeps } from '../appDeps.ts';
import { gives, router } from './parts.ts';

const choice = z.array(z.object({ value: z.string(), visits: z.number().int() }));

const choices = createRoute({
  method: 'get',
  path: '/api/choices',
  summary: 'The seasons, market classes and verdicts there are, for the filters of a list',
  responses: gives(z.object({ season: choice, class: choice, verdict: choice }), 'Each value and its number of visits'),
});

export const choiceRoutes = ({ db }: AppDeps) =>
  router().openapi(choices, async (c) => {
    const valuesOf = async (column: 'season' | 'class' | 'verdict') => {
      const rows = await db
        .selectFrom('thing')
        .select((eb) => [eb.ref(column).as('value'), eb.fn.countAll<number>().as('visits')])
        .where('kind', '=', 'visit')
        .where('removed', '=', 0)
        .where(column, 'is not', null)
        .groupBy(column)
        .orderBy(column)
        .execute();
      return rows.map(({ value, visits }) => ({ value: String(value), visits }));
    };
    const [season, marketClass, verdict] = [
      await valuesOf('season'),
      await valuesOf('class'),
      await valuesOf('verdict'),
    ];
    return c.json({ season, class: marketClass, verdict }, 200);
  });
