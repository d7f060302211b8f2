import { setImmediate as breathe } from 'node:timers/promises';
import { photoEntryName } from '../../core/archive/bundle.ts';
import { canonicalJson } from '../../core/sync/canonicalJson.ts';
import type { ChangeRecord, ThingKind } from '../../core/sync/changeRecord.ts';
import type { Json } from '../../core/sync/json.ts';
import { recordSchema } from '../../core/sync/recordSchema.ts';
import type { AppDeps } from '../appDeps.ts';
import { fault, isFault } from '../faults.ts';
import { sha256Of } from '../files/sha256Of.ts';
import { logRecords } from '../store/acceptRecords.ts';
import { contentHash } from '../store/contentHash.ts';
import { materialize } from '../store/materialize.ts';
import { type Bundle, bytesOf, openBundle } from './openBundle.ts';

export interface Imported {
  readonly records: number;
  readonly knownRecords: number;
  readonly photos: number;
  readonly knownPhotos: number;
  /** Photos that the archive speaks of without holding them. */
  readonly missingPhotos: number;
  readonly contentHash: string;
  /** Whether own targets came with it: verdicts are to be filed anew. */
  readonly targets: boolean;
}

/**
 * Reads an exported archive into this one. What is here already is recognised, everything else is added: nothing is
 * ever overwritten. Everything is checked first, and when anything fails nothing of it stays.
 *
 * @param path the zip file on this computer's disk.
 */
export async function importArchive(deps: AppDeps, path: string): Promise<Imported> {
  const bundle = await openBundle(path);
  const added: string[] = [];
  try {
    await checkRecords(bundle);
    let knownPhotos = 0;
    for (const { sha256, type } of bundle.manifest.photos) {
      const name = photoEntryName(sha256, type);
      const isNew = await deps.photos.take(sha256, await bundle.open(name)).catch((error: unknown) => {
        if (isFault(error) || isDiskFault(error)) throw error;
        throw fault('broken-archive', `${name} could not be unpacked (${(error as Error).message})`);
      });
      if (isNew) added.push(sha256);
      else knownPhotos++;
    }
    const log = await logAll(deps, bundle);
    return {
      ...log,
      photos: added.length,
      knownPhotos,
      missingPhotos: bundle.manifest.missingPhotos.length,
      contentHash: bundle.manifest.contentHash,
    };
  } catch (error) {
    for (const sha256 of added) await deps.photos.forget(sha256);
    throw error;
  } finally {
    bundle.close();
  }
}

/** Reads every record once, without keeping it: all must be valid, and all together must give the listed hash. */
async function checkRecords(bundle: Bundle): Promise<void> {
  const hashes: string[] = [];
  for (const listed of bundle.manifest.records) {
    const lines = await linesOf(bundle, listed);
    if (lines.length !== listed.records) {
      throw fault('broken-archive', `${lines.length} records in ${listed.name}`, { wanted: `${listed.records}` });
    }
    lines.forEach((line, i) => {
      const place = `${listed.name} line ${i + 1}`;
      const record = parseRecord(line, place);
      if (canonicalJson(record as unknown as Json) !== line)
        throw fault('broken-archive', `${place}: not in canonical form`);
      hashes.push(sha256Of(line));
    });
  }
  const photos = bundle.manifest.photos.map((photo) => photo.sha256);
  const found = contentHash(hashes, photos);
  if (found !== bundle.manifest.contentHash) {
    throw fault('broken-archive', `contents with hash ${found}`, { wanted: bundle.manifest.contentHash });
  }
}

function logAll({ db, now }: AppDeps, bundle: Bundle): Promise<Pick<Imported, 'records' | 'knownRecords' | 'targets'>> {
  return db.transaction().execute(async (tx) => {
    const touched = new Map<string, readonly [ThingKind, string]>();
    let records = 0;
    let knownRecords = 0;
    for (const listed of bundle.manifest.records) {
      const parsed = (await linesOf(bundle, listed)).map((line) => parseRecord(line, listed.name));
      const log = await logRecords(tx, parsed, now());
      await breathe();
      const [changed] = log.changed;
      if (changed !== undefined)
        throw fault('record-changed', `record ${changed} with other contents than the one here`);
      records += log.accepted.length;
      knownRecords += log.known.length;
      for (const [kind, thing] of log.touched) touched.set(`${kind}/${thing}`, [kind, thing]);
    }
    for (const [i, [kind, thing]] of [...touched.values()].entries()) {
      await materialize(tx, kind, thing);
      if (i % 100 === 0) await breathe();
    }
    return { records, knownRecords, targets: [...touched.values()].some(([kind]) => kind === 'targets') };
  });
}

async function linesOf(bundle: Bundle, listed: Bundle['manifest']['records'][number]): Promise<readonly string[]> {
  const bytes = await bytesOf(await bundle.open(listed.name)).catch((error: Error) => {
    throw fault('broken-archive', `${listed.name} could not be unpacked (${error.message})`);
  });
  if (sha256Of(bytes) !== listed.sha256)
    throw fault('broken-archive', `${listed.name} with another SHA-256 than listed`);
  return bytes.toString('utf8').split('\n').slice(0, -1);
}

function parseRecord(line: string, place: string): ChangeRecord {
  let raw: unknown;
  try {
    raw = JSON.parse(line);
  } catch {
    throw fault('broken-archive', `${place}: no JSON`);
  }
  const parsed = recordSchema.safeParse(raw);
  if (parsed.success) return parsed.data;
  const version = /"schema":"rowledger\/record@(\d+)"/.exec(line)?.[1];
  if (version !== undefined && Number(version) > 1) throw fault('too-new', `${place}: a record of version ${version}`);
  const issue = parsed.error.issues[0];
  throw fault('broken-archive', `${place}: ${issue?.path.join('.')}: ${issue?.message}`);
}

function isDiskFault(error: unknown): boolean {
  return error instanceof Error && 'code' in error && /^(ENOSPC|EDQUOT|EIO|EACCES|EROFS)$/.test(String(error.code));
}
