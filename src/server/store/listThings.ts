import { type ExpressionBuilder, type SqlBool, sql } from 'kysely';
import { fault } from '../faults.ts';
import type { Database, Tables, ThingTable } from './tables.ts';

export interface ThingFilter {
  readonly farm?: string | undefined;
  readonly field?: string | undefined;
  readonly visit?: string | undefined;
  readonly season?: string | undefined;
  readonly class?: string | undefined;
  readonly verdict?: string | undefined;
  /** Days, YYYY-MM-DD, both included. */
  readonly from?: string | undefined;
  readonly to?: string | undefined;
  /** Words that must all be found in the thing, its field or its farm. */
  readonly search?: string | undefined;
  /** Only things with open conflicts. */
  readonly conflicts?: boolean | undefined;
}

export interface Page {
  readonly limit: number;
  /** Where the page before ended. */
  readonly after?: string | undefined;
}

export interface ThingRow extends ThingTable {
  readonly fieldName: string | null;
  readonly farmName: string | null;
}

export interface ThingList {
  readonly items: readonly ThingRow[];
  readonly total: number;
  /** Pass as `after` for the next page; null on the last one. */
  readonly next: string | null;
}

/** One page of things of one kind, newest first, with the names of their field and farm. */
export async function listThings(
  db: Database,
  kind: ThingTable['kind'],
  filter: ThingFilter,
  page: Page,
): Promise<ThingList> {
  const matches = (eb: ExpressionBuilder<Tables, 'thing'>) => eb.and(conditions(eb, kind, filter));
  const { total } = await db
    .selectFrom('thing')
    .select((eb) => eb.fn.countAll<number>().as('total'))
    .where(matches)
    .executeTakeFirstOrThrow();
  const after = page.after === undefined ? null : readCursor(page.after);
  const found = await db
    .selectFrom('thing')
    .selectAll()
    .where(matches)
    .$if(after !== null, (q) => q.where(sql<SqlBool>`(ifnull(date, ''), id) < (${after?.[0]}, ${after?.[1]})`))
    .orderBy('date', 'desc')
    .orderBy('id', 'desc')
    .limit(page.limit + 1)
    .execute();
  const items = await withNames(db, found.slice(0, page.limit));
  const last = items.at(-1);
  const more = found.length > page.limit && last !== undefined;
  return { items, total, next: more ? writeCursor([last.date ?? '', last.id]) : null };
}

function conditions(eb: ExpressionBuilder<Tables, 'thing'>, kind: ThingTable['kind'], filter: ThingFilter) {
  const all = [eb('kind', '=', kind), eb('removed', '=', 0)];
  for (const column of ['farm', 'field', 'visit', 'season', 'class', 'verdict'] as const) {
    const wanted = filter[column];
    if (wanted !== undefined) all.push(eb(column, '=', wanted));
  }
  if (filter.from !== undefined) all.push(eb('date', '>=', filter.from));
  // A moment on the last day sorts after the bare day: compare with the end of it.
  if (filter.to !== undefined) all.push(eb('date', '<=', `${filter.to}T99`));
  if (filter.conflicts === true) all.push(eb('conflicts', '>', 0));
  for (const word of (filter.search ?? '').toLowerCase().split(/\s+/).filter(Boolean).slice(0, 8)) {
    const like = `%${word.replace(/[\\%_]/g, '\\$&')}%`;
    const named = (kind: 'field' | 'farm') =>
      eb(kind, 'in', (sub) =>
        sub
          .selectFrom('thing as named')
          .select('named.id')
          .where('named.kind', '=', kind)
          .where(sql<SqlBool>`named.search like ${like} escape '\\'`),
      );
    all.push(eb.or([sql<SqlBool>`search like ${like} escape '\\'`, named('field'), named('farm')]));
  }
  return all;
}

export async function withNames(db: Database, rows: readonly ThingTable[]): Promise<readonly ThingRow[]> {
  const ids = [...new Set(rows.flatMap((row) => [row.field, row.farm]).filter((id) => id !== null))];
  const named =
    ids.length === 0
      ? []
      : await db
          .selectFrom('thing')
          .select(['kind', 'id', 'title'])
          .where('kind', 'in', ['field', 'farm'])
          .where('id', 'in', ids)
          .execute();
  const titles = new Map(named.map((name) => [`${name.kind}/${name.id}`, name.title]));
  const nameOf = (kind: string, id: string | null) => titles.get(`${kind}/${id}`) ?? null;
  return rows.map((row) => ({ ...row, fieldName: nameOf('field', row.field), farmName: nameOf('farm', row.farm) }));
}

function writeCursor(place: readonly [string, string]): string {
  return Buffer.from(JSON.stringify(place)).toString('base64url');
}

function readCursor(text: string): readonly [string, string] {
  try {
    const place: unknown = JSON.parse(Buffer.from(text, 'base64url').toString());
    if (Array.isArray(place) && typeof place[0] === 'string' && typeof place[1] === 'string') {
      return [place[0], place[1]];
    }
  } catch {
    // Said below.
  }
  throw fault('bad-request', `the page mark "${text.slice(0, 40)}"`, { wanted: 'the "next" of the page before' });
}
