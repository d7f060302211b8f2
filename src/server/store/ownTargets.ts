import type { TargetRow } from '../../core/targets/targetRow.ts';
import { TARGET_ROWS } from '../../core/targets/targetRows.ts';
import { readVisitText } from '../../core/visit/readVisit.ts';
import { readTargetsText, TARGETS_ID, type TargetsDocument } from '../../core/visit/targetsDocument.ts';
import type { Database } from './tables.ts';
import { verdictOf } from './verdictOf.ts';

const BATCH = 50;

/** The targets this archive's organisation laid over the table, as its records add up; null: none. */
export async function readOwnTargets(db: Database): Promise<TargetsDocument | null> {
  const text = await ownText(db);
  return text === null ? null : (JSON.parse(text) as TargetsDocument);
}

let last: { readonly text: string; readonly rows: readonly TargetRow[] } | null = null;

/** The table of targets that verdicts of this archive are made with. */
export async function targetRows(db: Database): Promise<readonly TargetRow[]> {
  const text = await ownText(db);
  if (text === null) return TARGET_ROWS;
  if (last?.text !== text) {
    const read = readTargetsText(text);
    last = { text, rows: read.ok ? read.value : TARGET_ROWS };
  }
  return last.rows;
}

/**
 * Files every visit anew under the verdict that the targets of now give it, a few at a time, so that other requests get
 * their turn. Answers how many verdicts changed.
 */
export async function refileVerdicts(db: Database): Promise<number> {
  const targets = await targetRows(db);
  let changed = 0;
  for (let after = ''; ; ) {
    const visits = await db
      .selectFrom('document')
      .select(['id', 'body'])
      .where('kind', '=', 'visit')
      .where('id', '>', after)
      .orderBy('id')
      .limit(BATCH)
      .execute();
    for (const { id, body } of visits) {
      const read = readVisitText(body);
      if (!read.ok) continue;
      const verdict = verdictOf(read.value, targets);
      if (verdict === null) continue;
      const { numUpdatedRows } = await db
        .updateTable('thing')
        .set({ verdict })
        .where((eb) => eb.or([eb.and([eb('kind', '=', 'visit'), eb('id', '=', id)]), eb('visit', '=', id)]))
        .where('verdict', 'is not', null)
        .where('verdict', '!=', verdict)
        .executeTakeFirst();
      if (numUpdatedRows > 0n) changed++;
      await new Promise((resolve) => setImmediate(resolve));
    }
    const end = visits.at(-1);
    if (end === undefined || visits.length < BATCH) return changed;
    after = end.id;
  }
}

/** Files verdicts anew behind the running request, one run after another: the last one files with the newest targets. */
export function refiling(db: Database, report: (error: unknown) => void): () => void {
  let running: Promise<unknown> = Promise.resolve();
  return () => {
    running = running.then(() => refileVerdicts(db)).catch(report);
  };
}

async function ownText(db: Database): Promise<string | null> {
  const row = await db
    .selectFrom('document')
    .select('body')
    .where('kind', '=', 'targets')
    .where('id', '=', TARGETS_ID)
    .executeTakeFirst();
  return row?.body ?? null;
}
