import { RECORD_SCHEMA } from '../../core/sync/changeRecord.ts';
import { editThing, NOTHING_YET } from '../../core/sync/editThing.ts';
import type { Json } from '../../core/sync/json.ts';
import { TARGETS_ID } from '../../core/visit/targetsDocument.ts';
import { acceptRecords } from './acceptRecords.ts';
import type { Database } from './tables.ts';

const OLD_KEY = 'targets';

/** Own targets were once kept beside the records, each version in place of the one before: made one record, once. */
export async function takeOverTargets(db: Database, newId: () => string, now: () => string): Promise<void> {
  const old = await db.selectFrom('meta').select('value').where('key', '=', OLD_KEY).executeTakeFirst();
  if (old === undefined) return;
  const id = newId();
  const record = {
    schema: RECORD_SCHEMA,
    id,
    device: `archive-${id}`,
    sequence: 1,
    author: 'this archive',
    at: now(),
    kind: 'targets',
    thing: TARGETS_ID,
    parents: [],
    changes: editThing(NOTHING_YET, JSON.parse(old.value) as Json),
  };
  const { refused } = await acceptRecords(db, [record], now());
  if (refused.length > 0) throw new Error(`own targets could not be taken over: ${refused[0]?.message}`);
  await db.deleteFrom('meta').where('key', '=', OLD_KEY).execute();
}
