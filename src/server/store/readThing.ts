import type { Json } from '../../core/sync/json.ts';
import type { Conflict } from '../../core/sync/mergeRecords.ts';
import { fault } from '../faults.ts';
import { type ThingRow, withNames } from './listThings.ts';
import type { Database, ThingTable } from './tables.ts';

export interface WholeThing {
  readonly row: ThingRow;
  /** Null where nothing but a mention in a visit is known of it. */
  readonly document: Json;
  readonly conflicts: readonly Conflict[];
}

/** One thing as it stands. Throws the fault "not-found" when nothing is known of it. */
export async function readThing(db: Database, kind: ThingTable['kind'], id: string): Promise<WholeThing> {
  const found = await db
    .selectFrom('thing')
    .selectAll()
    .where('kind', '=', kind)
    .where('id', '=', id)
    .executeTakeFirst();
  if (found === undefined) throw fault('not-found', `no ${kind} ${id}`);
  const [row] = await withNames(db, [found]);
  const held =
    kind === 'spot'
      ? undefined
      : await db
          .selectFrom('document')
          .select(['body', 'conflicts'])
          .where('kind', '=', kind)
          .where('id', '=', id)
          .executeTakeFirst();
  return {
    row: row as ThingRow,
    document: held === undefined ? null : (JSON.parse(held.body) as Json),
    conflicts: held === undefined ? [] : (JSON.parse(held.conflicts) as Conflict[]),
  };
}
