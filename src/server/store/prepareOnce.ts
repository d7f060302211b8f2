import type { SqliteDatabase } from 'kysely';

type Statement = ReturnType<SqliteDatabase['prepare']>;

const MOST_KEPT = 200;

/**
 * A database that prepares each statement text once and uses it again. Preparing costs more than most of our queries
 * do; and each dropped statement is work for later that piles up while records come in.
 */
export function prepareOnce(database: SqliteDatabase): SqliteDatabase {
  const kept = new Map<string, Statement>();
  return {
    close: () => {
      kept.clear();
      database.close();
    },
    prepare: (text) => {
      const statement = kept.get(text) ?? database.prepare(text);
      // Used last goes to the end; the one at the front has waited longest.
      kept.delete(text);
      kept.set(text, statement);
      const [oldest] = kept.keys();
      if (kept.size > MOST_KEPT && oldest !== undefined) kept.delete(oldest);
      return statement;
    },
  };
}
