import type { Readable } from 'node:stream';
import yauzl, { type Entry, type ZipFile } from 'yauzl';
import { isBundleName, MANIFEST, type Manifest, photoEntryName, readManifest } from '../../core/archive/bundle.ts';
import { type FaultCode, fault } from '../faults.ts';
import { MOST_PHOTO_BYTES } from '../files/photoStore.ts';

const MOST_ENTRIES = 2_000_000;
const MOST_MANIFEST_BYTES = 256 * 1024 * 1024;
/** Of one entry of records, unpacked. */
export const MOST_RECORDS_BYTES = 256 * 1024 * 1024;

export interface Bundle {
  readonly manifest: Manifest;
  readonly open: (name: string) => Promise<Readable>;
  readonly close: () => void;
}

/**
 * Opens an exported archive and checks everything that can be checked without reading its contents: entry names, sizes,
 * the list of contents, and that exactly the listed records and photos are there. Throws a fault that says what is wrong.
 */
export async function openBundle(path: string): Promise<Bundle> {
  const zip = await yauzl.openPromise(path, { lazyEntries: true, autoClose: false }).catch((error: Error) => {
    throw fault('not-an-archive', `a file that is not a zip (${error.message})`);
  });
  try {
    const entries = await readEntries(zip);
    const open = async (name: string) => {
      const entry = entries.get(name);
      if (entry === undefined) throw fault('broken-archive', `no entry ${name}`);
      return zip.openReadStreamPromise(entry);
    };
    if (!entries.has(MANIFEST)) throw fault('not-an-archive', `a zip without ${MANIFEST}`);
    const read = readManifest((await bytesOf(await open(MANIFEST))).toString('utf8'));
    if (!read.ok) throw fault(read.code as FaultCode, read.found, { wanted: read.wanted });
    checkContents(read.value, entries);
    return { manifest: read.value, open, close: () => zip.close() };
  } catch (error) {
    zip.close();
    throw error;
  }
}

async function readEntries(zip: ZipFile): Promise<ReadonlyMap<string, Entry>> {
  const entries = new Map<string, Entry>();
  if (zip.entryCount > MOST_ENTRIES) throw fault('broken-archive', `${zip.entryCount} entries`);
  try {
    for await (const entry of zip.eachEntry()) {
      const name = entry.fileName;
      if (!isBundleName(name)) throw fault('unsafe-archive', `an entry named ${JSON.stringify(name.slice(0, 100))}`);
      if (entries.has(name)) throw fault('broken-archive', `two entries named ${name}`);
      if (entry.isEncrypted()) throw fault('broken-archive', `an encrypted entry ${name}`);
      const most = name.startsWith('photos/')
        ? MOST_PHOTO_BYTES
        : name === MANIFEST
          ? MOST_MANIFEST_BYTES
          : MOST_RECORDS_BYTES;
      const counts = name.startsWith('photos/') || name.startsWith('records/') || name === MANIFEST;
      if (counts && entry.uncompressedSize > most) {
        throw fault('broken-archive', `${entry.uncompressedSize} bytes in ${name}`, {
          wanted: `at most ${most} bytes`,
        });
      }
      entries.set(name, entry);
    }
  } catch (error) {
    // The reader of the zip refuses absolute names, drive letters, backslashes and `..` by itself.
    if (error instanceof Error && /relative path|absolute path|invalid characters/.test(error.message)) {
      throw fault('unsafe-archive', error.message);
    }
    if (error instanceof Error && !('fault' in error))
      throw fault('broken-archive', `a damaged zip (${error.message})`);
    throw error;
  }
  return entries;
}

function checkContents(manifest: Manifest, entries: ReadonlyMap<string, Entry>): void {
  const listed = new Map<string, number>();
  for (const { name, bytes } of manifest.records) listed.set(name, bytes);
  for (const { sha256, type, bytes } of manifest.photos) listed.set(photoEntryName(sha256, type), bytes);
  for (const [name, bytes] of listed) {
    const found = entries.get(name)?.uncompressedSize;
    if (found !== bytes) {
      throw fault('broken-archive', found === undefined ? `no entry ${name}` : `${found} bytes in ${name}`, {
        wanted: `${name} with ${bytes} bytes, as listed`,
      });
    }
  }
  for (const name of entries.keys()) {
    if (/^(records|photos)\//.test(name) && !listed.has(name))
      throw fault('broken-archive', `${name}, which is not listed`);
  }
}

export async function bytesOf(stream: Readable): Promise<Buffer> {
  const parts: Uint8Array[] = [];
  for await (const part of stream as AsyncIterable<Uint8Array>) parts.push(part);
  return Buffer.concat(parts);
}
