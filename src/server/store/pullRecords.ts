import { type SqlBool, sql } from 'kysely';
import type { ChangeRecord } from '../../core/sync/changeRecord.ts';
import { fault } from '../faults.ts';
import type { Database } from './tables.ts';

/** What a device wants to hold. Farms, fields, plantings and own targets always come along: they are small. */
export interface PullScope {
  readonly season?: string | undefined;
  readonly field?: string | undefined;
  /** False: without machine detections kept beside the visits. */
  readonly detections?: boolean | undefined;
}

export interface Pull {
  readonly records: readonly ChangeRecord[];
  /** Pass as `after` next time. */
  readonly cursor: string;
  /** True: ask again at once, there is more. */
  readonly more: boolean;
}

/** One message is kept below this, so that a phone on a thin line gets something whole. */
const MOST_PULL_BYTES = 4 * 1024 * 1024;

/** Records in order of arrival, from behind a cursor. The cursor belongs to one archive: a foreign one is refused. */
export async function pullRecords(
  db: Database,
  archiveId: string,
  after: string | null,
  limit: number,
  scope: PullScope,
): Promise<Pull> {
  const from = after === null ? 0 : readCursor(archiveId, after);
  // Asked before the rows: what arrives in between is for next time, not to be skipped.
  const end = await lastArrival(db, from);
  const rows = await db
    .selectFrom('record')
    .select(['n', 'body'])
    .where('n', '>', from)
    .where('n', '<=', end)
    .$if(scope.detections === false, (q) => q.where('kind', '!=', 'detections'))
    .$if(scope.season !== undefined || scope.field !== undefined, (q) => q.where(inScope(scope)))
    .orderBy('n')
    .limit(limit + 1)
    .execute();
  let bytes = 0;
  const sent = rows.slice(0, limit).filter((row, i) => {
    bytes += row.body.length;
    return i === 0 || bytes <= MOST_PULL_BYTES;
  });
  const more = rows.length > sent.length;
  const last = more ? (sent.at(-1)?.n ?? from) : end;
  return { records: sent.map((row) => JSON.parse(row.body) as ChangeRecord), cursor: `${archiveId}.${last}`, more };
}

function inScope({ season, field }: PullScope) {
  const seasonIs = season === undefined ? sql`` : sql`and thing.season = ${season}`;
  const fieldIs = field === undefined ? sql`` : sql`and thing.field = ${field}`;
  return sql<SqlBool>`(record.kind in ('farm', 'field', 'planting', 'targets') or exists (
    select 1 from thing where thing.kind = record.kind and thing.id = record.thing ${seasonIs} ${fieldIs}))`;
}

async function lastArrival(db: Database, from: number): Promise<number> {
  const { n } = await db
    .selectFrom('record')
    .select((eb) => eb.fn.max<number | null>('n').as('n'))
    .executeTakeFirstOrThrow();
  return n ?? from;
}

function readCursor(archiveId: string, cursor: string): number {
  const dot = cursor.lastIndexOf('.');
  const n = Number(cursor.slice(dot + 1));
  if (cursor.slice(0, dot) === archiveId && Number.isSafeInteger(n) && n >= 0) return n;
  throw fault('foreign-cursor', `the cursor "${cursor.slice(0, 60)}"`);
}
