import { canonicalJson } from '../../core/sync/canonicalJson.ts';
import type { ChangeRecord, ThingKind } from '../../core/sync/changeRecord.ts';
import type { Json } from '../../core/sync/json.ts';
import { recordSchema } from '../../core/sync/recordSchema.ts';
import { FAULTS, type FaultCode } from '../faults.ts';
import { sha256Of } from '../files/sha256Of.ts';
import { materialize } from './materialize.ts';
import type { Database } from './tables.ts';

export interface Refusal {
  readonly id: string;
  readonly code: FaultCode;
  readonly message: string;
}

/** What became of the records of one message: new, here already, or refused with the reason. */
export interface Acceptance {
  readonly accepted: readonly string[];
  readonly known: readonly string[];
  readonly refused: readonly Refusal[];
  /** Whether the organisation's own targets are among the new ones: verdicts are to be filed anew. */
  readonly targets: boolean;
}

/**
 * Adds records to the log, each once however often it comes, and brings the things they are about up to date, all in
 * one transaction: when it fails, nothing of it is there. A refused record does not hold up the others.
 */
export async function acceptRecords(db: Database, raw: readonly unknown[], receivedAt: string): Promise<Acceptance> {
  const refused: Refusal[] = [];
  const good = raw.flatMap((candidate, i) => {
    const checked = checkRecord(candidate, i);
    if ('code' in checked) refused.push(checked);
    return 'code' in checked ? [] : [checked];
  });
  return db.transaction().execute(async (tx) => {
    const log = await logRecords(tx, good, receivedAt);
    for (const [kind, thing] of log.touched) await materialize(tx, kind, thing);
    const changed = log.changed.map((id) => refusal(id, 'record-changed', 'a record with this id and other contents'));
    const targets = log.touched.some(([kind]) => kind === 'targets');
    return { accepted: log.accepted, known: log.known, refused: [...refused, ...changed], targets };
  });
}

/** Adds checked records to the log. The things they touch must be materialised afterwards, in the same transaction. */
export async function logRecords(tx: Database, records: readonly ChangeRecord[], receivedAt: string) {
  const accepted: string[] = [];
  const known: string[] = [];
  const changed: string[] = [];
  const touched = new Map<string, readonly [ThingKind, string]>();
  for (const record of records) {
    const { id, device, sequence, author, at, kind, thing } = record;
    const body = canonicalJson(record as unknown as Json);
    const hash = sha256Of(body);
    const added = await tx
      .insertInto('record')
      .values({ id, device, sequence, author, at, kind, thing, hash, body, received_at: receivedAt })
      .onConflict((c) => c.column('id').doNothing())
      .returning('n')
      .executeTakeFirst();
    if (added !== undefined) {
      accepted.push(id);
      touched.set(`${kind}/${thing}`, [kind, thing]);
      continue;
    }
    const here = await tx.selectFrom('record').select('hash').where('id', '=', id).executeTakeFirstOrThrow();
    if (here.hash === hash) known.push(id);
    else changed.push(id);
  }
  return { accepted, known, changed, touched: [...touched.values()] };
}

function checkRecord(raw: unknown, place: number): ChangeRecord | Refusal {
  const parsed = recordSchema.safeParse(raw);
  if (parsed.success) return parsed.data;
  const fields = (typeof raw === 'object' && raw !== null ? raw : {}) as { id?: unknown; schema?: unknown };
  const id = typeof fields.id === 'string' ? fields.id.slice(0, 100) : `number ${place + 1} of the message`;
  const version = /^rowledger\/record@(\d+)$/.exec(String(fields.schema))?.[1];
  if (version !== undefined && Number(version) > 1) return refusal(id, 'too-new', `a record of version ${version}`);
  const issues = parsed.error.issues
    .slice(0, 3)
    .map((issue) => `${issue.path.join('.') || 'record'}: ${issue.message}`);
  return refusal(id, 'record-refused', issues.join('; '));
}

function refusal(id: string, code: FaultCode, found: string): Refusal {
  const [, wanted, next] = FAULTS[code];
  return { id, code, message: `Found ${found}; wanted ${wanted}. ${next}` };
}
