import { Kysely, Migrator, type SqliteDatabase, SqliteDialect, sql } from 'kysely';
import Libsql from 'libsql';
import { fault } from '../faults.ts';
import { MIGRATIONS } from './migrations.ts';
import { prepareOnce } from './prepareOnce.ts';
import type { Database, Tables } from './tables.ts';

/**
 * Opens the archive's database and brings it to the tables of today. Every commit is on the disk before it is
 * acknowledged (write-ahead log, full synchronous). Throws a fault when the file was made by a newer version.
 *
 * @param file path, or `:memory:`.
 * @param newId gives the id of a new archive.
 */
export async function openDatabase(file: string, newId: () => string): Promise<{ db: Database; archiveId: string }> {
  const db: Database = new Kysely<Tables>({
    dialect: new SqliteDialect({ database: prepareOnce(new Libsql(file) as unknown as SqliteDatabase) }),
  });
  try {
    for (const pragma of ['journal_mode = wal', 'synchronous = full', 'busy_timeout = 5000', 'cache_size = -65536']) {
      await sql.raw(`pragma ${pragma}`).execute(db);
    }
    await refuseNewer(db);
    const migrator = new Migrator({ db, provider: { getMigrations: async () => ({ ...MIGRATIONS }) } });
    const { error } = await migrator.migrateToLatest();
    if (error !== undefined) throw error;
    await db
      .insertInto('meta')
      .values({ key: 'archive', value: newId() })
      .onConflict((c) => c.doNothing())
      .execute();
    const row = await db.selectFrom('meta').select('value').where('key', '=', 'archive').executeTakeFirstOrThrow();
    return { db, archiveId: row.value };
  } catch (error) {
    await db.destroy();
    throw error;
  }
}

async function refuseNewer(db: Database): Promise<void> {
  const known = Object.keys(MIGRATIONS);
  const table = await sql`select 1 from sqlite_master where name = 'kysely_migration'`.execute(db);
  if (table.rows.length === 0) return;
  const done = await sql<{ name: string }>`select name from kysely_migration`.execute(db);
  const unknown = done.rows.find(({ name }) => !known.includes(name));
  if (unknown === undefined) return;
  throw fault('too-new', `a data folder at step ${unknown.name}`, { wanted: `step ${known.at(-1)} or older` });
}
