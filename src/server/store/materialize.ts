import { correctionConflicts } from '../../core/archive/correctionConflicts.ts';
import { readDocument } from '../../core/archive/documents.ts';
import { type IndexEntry, indexThing } from '../../core/archive/indexThing.ts';
import { inOneLine } from '../../core/faults/outcome.ts';
import type { ChangeRecord, ThingKind } from '../../core/sync/changeRecord.ts';
import { isJsonObject, type Json } from '../../core/sync/json.ts';
import { mergeRecords } from '../../core/sync/mergeRecords.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { targetRows } from './ownTargets.ts';
import type { Database, ThingTable } from './tables.ts';
import { verdictOf } from './verdictOf.ts';

/** Works out one thing anew from its records: its document, its conflicts and its index entries. */
export async function materialize(db: Database, kind: ThingKind, id: string): Promise<void> {
  const records = await recordsOf(db, kind, id);
  const merged = mergeRecords(records);
  const conflicts = [...merged.conflicts, ...(kind === 'visit' ? correctionConflicts(records, merged) : [])];
  const read = readDocument(kind, merged.document);
  const last = records.reduce((a, b) => (a.at > b.at || (a.at === b.at && a.id > b.id) ? a : b));
  const shared = {
    verdict: kind === 'visit' && read.ok ? verdictOf(read.value as VisitDocument, await targetRows(db)) : null,
    conflicts: conflicts.length,
    removed: isJsonObject(merged.document) && merged.document.removed === true ? 1 : 0,
    problem: read.ok ? null : inOneLine(read),
    author: last.author,
    updated_at: last.at,
  };
  const [own, ...others] = indexThing(kind, id, merged.document).map((entry) => ({ ...entry, ...shared }));
  await upsert(db, await withPlace(db, own as ThingTable));
  const body = JSON.stringify(merged.document);
  const shown = JSON.stringify(conflicts);
  await db
    .insertInto('document')
    .values({ kind, id, body, conflicts: shown })
    .onConflict((c) => c.columns(['kind', 'id']).doUpdateSet({ body, conflicts: shown }))
    .execute();
  if (kind === 'visit') await indexParts(db, own as ThingTable, others, merged.document);
}

export async function recordsOf(db: Database, kind: ThingKind, id: string): Promise<ChangeRecord[]> {
  const rows = await db
    .selectFrom('record')
    .select('body')
    .where('kind', '=', kind)
    .where('thing', '=', id)
    .orderBy('n')
    .execute();
  return rows.map((row) => JSON.parse(row.body) as ChangeRecord);
}

/** A photo or a machine count learns from the visit it belongs to which field and season it is of. */
async function withPlace(db: Database, row: ThingTable): Promise<ThingTable> {
  if (row.kind !== 'photo' && row.kind !== 'detections') return row;
  const photo = await db
    .selectFrom('thing')
    .selectAll()
    .where('kind', '=', 'photo')
    .where('id', '=', row.photo ?? '')
    .executeTakeFirst();
  const visitId = row.visit ?? photo?.visit;
  const visit =
    visitId == null
      ? undefined
      : await db
          .selectFrom('thing')
          .selectAll()
          .where('kind', '=', 'visit')
          .where('id', '=', visitId)
          .executeTakeFirst();
  return {
    ...row,
    visit: visitId ?? null,
    spot: row.spot ?? photo?.spot ?? null,
    farm: visit?.farm ?? photo?.farm ?? null,
    field: visit?.field ?? row.field ?? photo?.field ?? null,
    planting: visit?.planting ?? null,
    season: visit?.season ?? photo?.season ?? null,
    class: visit?.class ?? photo?.class ?? null,
    date: row.date ?? photo?.date ?? null,
    title: row.title === '' ? (photo?.title ?? '') : row.title,
    latitude: row.latitude ?? photo?.latitude ?? null,
    longitude: row.longitude ?? photo?.longitude ?? null,
  };
}

/** The spots and photos of a visit, and the farm, field and planting it names where nobody has recorded them yet. */
async function indexParts(db: Database, visit: ThingTable, parts: readonly ThingTable[], document: Json) {
  await db.deleteFrom('thing').where('visit', '=', visit.id).where('kind', '=', 'spot').execute();
  const { farm, field, planting, season } = visit;
  const place = { farm, field, planting, season, class: visit.class };
  await db
    .updateTable('thing')
    .set(place)
    .where('visit', '=', visit.id)
    .where('kind', 'in', ['photo', 'detections'])
    .execute();
  const rows = new Map(parts.map((row) => [`${row.kind}/${row.id}`, { ...row, verdict: visit.verdict, conflicts: 0 }]));
  for (const row of rows.values()) {
    if (row.kind === 'spot') await upsert(db, row);
    if (row.kind !== 'photo') continue;
    const { spot, date, latitude, longitude } = row;
    await db
      .insertInto('thing')
      .values({ ...row, problem: null })
      .onConflict((c) =>
        c.columns(['kind', 'id']).doUpdateSet({ ...place, visit: visit.id, spot, date, latitude, longitude }),
      )
      .execute();
    await db
      .updateTable('thing')
      .set({ ...place, visit: visit.id, spot })
      .where('photo', '=', row.id)
      .where('kind', '=', 'detections')
      .execute();
  }
  for (const entry of namedIn(document)) {
    const { author, updated_at } = visit;
    const blank = { verdict: null, conflicts: 0, removed: 0, problem: null, author, updated_at };
    await db
      .insertInto('thing')
      .values({ ...entry, ...blank })
      .onConflict((c) => c.doNothing())
      .execute();
  }
}

function namedIn(document: Json): readonly IndexEntry[] {
  if (!isJsonObject(document)) return [];
  const { farm, field, planting, season } = document;
  const id = (part: Json | undefined) => (isJsonObject(part) && typeof part.id === 'string' ? part.id : null);
  const [farmId, fieldId, plantingId] = [id(farm), id(field), id(planting)];
  const entries: IndexEntry[] = [];
  if (farmId !== null) entries.push(...indexThing('farm', farmId, farm as Json));
  if (fieldId !== null) entries.push(...indexThing('field', fieldId, { ...(field as object), farmId } as Json));
  if (plantingId !== null) {
    entries.push(...indexThing('planting', plantingId, { ...(planting as object), fieldId, season } as Json));
  }
  return entries.map((entry) => (entry.kind === 'planting' ? { ...entry, farm: farmId } : entry));
}

async function upsert(db: Database, row: ThingTable): Promise<void> {
  await db
    .insertInto('thing')
    .values(row)
    .onConflict((c) => c.columns(['kind', 'id']).doUpdateSet(row))
    .execute();
}
