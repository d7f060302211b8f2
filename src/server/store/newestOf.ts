import { sql } from 'kysely';
import { type ThingRow, withNames } from './listThings.ts';
import type { Database } from './tables.ts';

/** The newest visit, or planting, of each of these fields. */
export async function newestOf(
  db: Database,
  kind: 'visit' | 'planting',
  fields: readonly string[],
): Promise<ReadonlyMap<string, ThingRow>> {
  if (fields.length === 0) return new Map();
  const newest = sql<string | null>`(select id from thing as one where one.kind = ${kind} and one.field = owner.id
    and one.removed = 0 order by one.date desc, one.id desc limit 1)`;
  const ids = await db
    .selectFrom('thing as owner')
    .select(newest.as('id'))
    .where('owner.kind', '=', 'field')
    .where('owner.id', 'in', [...fields])
    .execute();
  const wanted = ids.map((row) => row.id).filter((id) => id !== null);
  if (wanted.length === 0) return new Map();
  const rows = await db.selectFrom('thing').selectAll().where('kind', '=', kind).where('id', 'in', wanted).execute();
  return new Map((await withNames(db, rows)).map((row) => [row.field ?? '', row]));
}
