import { Readable } from 'node:stream';
import { type SqlBool, sql } from 'kysely';
import { ZipFile } from 'yazl';
import {
  BUNDLE_VERSION,
  documentEntryName,
  MANIFEST,
  type Manifest,
  photoEntryName,
  recordsEntryName,
} from '../../core/archive/bundle.ts';
import { countsTable } from '../../core/archive/countsTable.ts';
import { fieldsGeoJson, spotsGeoJson } from '../../core/archive/geoJson.ts';
import type { Json } from '../../core/sync/json.ts';
import type { AppDeps } from '../appDeps.ts';
import { fault } from '../faults.ts';
import { sha256Of } from '../files/sha256Of.ts';
import { contentHash } from '../store/contentHash.ts';
import { readThing } from '../store/readThing.ts';
import type { Database } from '../store/tables.ts';

const RECORDS_AN_ENTRY = 500;

/**
 * The whole archive, or one field of it with the organisation's own targets, as a zip stream: records and original photos (the truth), and beside them the
 * documents as JSON, the counts as CSV, fields and spots as GeoJSON (for people and other programs). Each entry is read
 * when its turn comes, so memory does not grow with the archive. Past 65,535 entries or 4 GB the zip is a zip64.
 */
export async function exportArchive(deps: AppDeps, field: string | null): Promise<Readable> {
  const { db, photos, now, version } = deps;
  const farm = field === null ? null : (await readThing(db, 'field', field)).row.farm;
  const records = await recordsInScope(db, field, farm);
  const things = await thingsInScope(db, field, farm);
  const files = await photosInScope(db, field);
  for (const file of files) {
    if (!(await photos.isWhole(file))) throw fault('photo-gone', `no whole original of photo ${file.sha256}`);
  }
  const held = new Set(files.map((file) => file.sha256));
  const missingPhotos = things.filter(({ kind, id }) => kind === 'photo' && !held.has(id)).map(({ id }) => id);

  const zip = new ZipFile();
  const output = zip.outputStream as Readable;
  zip.on('error', (error: Error) => output.destroy(error));
  // Set at once: a file that cannot be opened fails before the zip listens.
  const watched = (stream: Readable) => stream.on('error', (error) => output.destroy(error));
  const madeAt = now();
  const mtime = new Date(madeAt);
  const add = (name: string, open: () => Promise<Readable>, options: { compress: boolean; size?: number }) =>
    zip.addReadStreamLazy(name, { mtime, ...options }, (done) => {
      open().then(
        (stream) => done(null, stream),
        (error: unknown) => done(error, Readable.from([])),
      );
    });

  const listed: Manifest['records'] = [];
  for (let i = 0; i * RECORDS_AN_ENTRY < records.length; i++) {
    const ids = records.slice(i * RECORDS_AN_ENTRY, (i + 1) * RECORDS_AN_ENTRY).map((record) => record.id);
    const name = recordsEntryName(i + 1);
    const open = async () => {
      const rows = await db.selectFrom('record').select('body').where('id', 'in', ids).orderBy('id').execute();
      const text = Buffer.from(rows.map((row) => `${row.body}\n`).join(''));
      listed.push({ name, sha256: sha256Of(text), bytes: text.length, records: rows.length });
      return Readable.from([text]);
    };
    add(name, open, { compress: true });
  }
  for (const { sha256, type, bytes } of files) {
    add(photoEntryName(sha256, type), async () => watched(photos.read(sha256)), { compress: false, size: bytes });
  }
  for (const { kind, id } of things) {
    if (kind === 'spot') continue;
    const open = async () => Readable.from([JSON.stringify((await readThing(db, kind, id)).document, null, 1)]);
    add(documentEntryName(kind, id, sha256Of(id).slice(0, 8)), open, { compress: true });
  }
  const visits = things.filter(({ kind }) => kind === 'visit');
  add('tables/counts.csv', async () => Readable.from([countsTable(await documentsOf(db, visits))]), { compress: true });
  const fields = things.filter(({ kind }) => kind === 'field');
  const fieldMap = async () => {
    const documents = await documentsOf(db, fields);
    return Readable.from([fieldsGeoJson(fields.map(({ id }, i) => ({ id, document: documents[i] as Json })))]);
  };
  add('maps/fields.geojson', fieldMap, { compress: true });
  const spots = things.filter(({ kind }) => kind === 'spot');
  add('maps/spots.geojson', async () => Readable.from([spotsGeoJson(spots)]), { compress: true });

  const manifest = async () => {
    const contents: Manifest = {
      schema: `rowledger/archive@${BUNDLE_VERSION}`,
      madeBy: `rowledger ${version}`,
      madeAt,
      field,
      contentHash: contentHash(
        records.map((record) => record.hash),
        files.map((file) => file.sha256),
      ),
      records: listed,
      photos: files,
      missingPhotos,
    };
    return Readable.from([JSON.stringify(contents, null, 1)]);
  };
  add(MANIFEST, manifest, { compress: true });
  zip.end();
  return output;
}

function recordsInScope(db: Database, field: string | null, farm: string | null) {
  const inField = sql<SqlBool>`exists (select 1 from thing where thing.kind = record.kind and thing.id = record.thing
    and (thing.field = ${field} or thing.kind = 'targets' or (thing.kind in ('farm', 'heads') and thing.id = ${farm})))`;
  return db
    .selectFrom('record')
    .select(['id', 'hash'])
    .$if(field !== null, (q) => q.where(inField))
    .orderBy('id')
    .execute();
}

function thingsInScope(db: Database, field: string | null, farm: string | null) {
  return db
    .selectFrom('thing')
    .selectAll()
    .$if(field !== null, (q) =>
      q.where((eb) =>
        eb.or([
          eb('field', '=', field),
          eb('kind', '=', 'targets'),
          eb.and([eb('kind', 'in', ['farm', 'heads']), eb('id', '=', farm)]),
        ]),
      ),
    )
    .orderBy('kind')
    .orderBy('id')
    .execute();
}

async function photosInScope(db: Database, field: string | null): Promise<Manifest['photos']> {
  return db
    .selectFrom('photo_file')
    .select(['sha256', 'bytes', 'type'])
    .$if(field !== null, (q) =>
      q.where('sha256', 'in', (sub) =>
        sub.selectFrom('thing').select('id').where('kind', '=', 'photo').where('field', '=', field),
      ),
    )
    .orderBy('sha256')
    .execute();
}

/** Documents in the order asked for. A field that was only named by a visit has the visit's copy of it. */
async function documentsOf(db: Database, things: readonly { kind: string; id: string }[]): Promise<readonly Json[]> {
  const documents: Json[] = [];
  for (const { kind, id } of things) {
    const held = await db
      .selectFrom('document')
      .select('body')
      .where('kind', '=', kind as 'visit')
      .where('id', '=', id)
      .executeTakeFirst();
    documents.push(held === undefined ? await namedField(db, id) : (JSON.parse(held.body) as Json));
  }
  return documents;
}

async function namedField(db: Database, field: string): Promise<Json> {
  const visit = await db
    .selectFrom('thing')
    .innerJoin('document', (join) =>
      join.onRef('document.kind', '=', 'thing.kind').onRef('document.id', '=', 'thing.id'),
    )
    .select('document.body')
    .where('thing.kind', '=', 'visit')
    .where('thing.field', '=', field)
    .orderBy('thing.date', 'desc')
    .executeTakeFirst();
  return visit === undefined ? null : ((JSON.parse(visit.body) as { field?: Json }).field ?? null);
}
