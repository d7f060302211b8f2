import { correctionConflicts } from '../../core/archive/correctionConflicts.ts';
import type { ChangeRecord, ThingKind } from '../../core/sync/changeRecord.ts';
import { mergeRecords } from '../../core/sync/mergeRecords.ts';
import { briefOf } from './briefOf.ts';
import type { EditStores, Writing } from './storeTypes.ts';
import { thingKey } from './storeTypes.ts';

/** Works one thing out anew from its records, within a running transaction. */
export async function holdThing(
  tx: Writing<EditStores>,
  kind: ThingKind,
  thing: string,
  records: readonly ChangeRecord[],
): Promise<void> {
  const key = thingKey(kind, thing);
  const merged = mergeRecords(records);
  const conflicts = [...merged.conflicts, ...(kind === 'visit' ? correctionConflicts(records, merged) : [])];
  const updatedAt = records.reduce((last, record) => (record.at > last ? record.at : last), '');
  await tx.objectStore('things').put({ thingKey: key, kind, thing, document: merged.document, conflicts });
  const brief = briefOf(kind, merged.document);
  await tx.objectStore('rows').put({ thingKey: key, kind, thing, brief, conflicts: conflicts.length, updatedAt });
}
