import { createHash } from 'node:crypto';
import { join } from 'node:path';
import type { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { fault } from '../faults.ts';
import type { Database } from '../store/tables.ts';
import type { FileSteps } from './fileSteps.ts';
import { oneAtATime } from './oneAtATime.ts';
import { photoType, TYPE_BYTES } from './photoType.ts';

/** A photo larger than this is refused: four times a 12-megapixel photo at its least compressed. */
export const MOST_PHOTO_BYTES = 64 * 1024 * 1024;

export interface PhotoStoreDeps {
  readonly db: Database;
  readonly steps: FileSteps;
  /** The data folder. */
  readonly folder: string;
  readonly now: () => string;
}

export interface UploadState {
  readonly state: 'stored' | 'partial' | 'absent';
  /** Bytes that are here; go on from this one. */
  readonly offset: number;
}

export interface StoredPhoto {
  readonly sha256: string;
  readonly bytes: number;
  readonly type: string;
}

export type PhotoStore = ReturnType<typeof createPhotoStore>;

/**
 * Originals under `photos/`, byte for byte, named by their SHA-256; halves under `incoming/`. A photo is written to
 * `incoming/`, flushed, read back and verified, and only then renamed into `photos/`: whenever the power fails, there
 * is a whole photo or none. `sha256` arguments must have been checked to be 64 hexadecimal digits.
 */
export function createPhotoStore({ db, steps, folder, now }: PhotoStoreDeps) {
  const alone = oneAtATime();
  const pathOf = (sha256: string) => join(folder, 'photos', sha256.slice(0, 2), sha256);
  const partOf = (sha256: string) => join(folder, 'incoming', `${sha256}.part`);

  const find = (sha256: string): Promise<StoredPhoto | undefined> =>
    db.selectFrom('photo_file').select(['sha256', 'bytes', 'type']).where('sha256', '=', sha256).executeTakeFirst();

  const stateNow = async (sha256: string): Promise<UploadState> => {
    const stored = (await find(sha256)) ?? (await adopt(sha256));
    if (stored !== undefined && (await isWhole(stored))) return { state: 'stored', offset: stored.bytes };
    const offset = await steps.size(partOf(sha256));
    return offset === null || offset === 0 ? { state: 'absent', offset: 0 } : { state: 'partial', offset };
  };

  /** False when somebody removed or cut the file behind our back: then it is wanted again. */
  const isWhole = async (photo: StoredPhoto): Promise<boolean> =>
    (await steps.size(pathOf(photo.sha256))) === photo.bytes;

  const state = (sha256: string): Promise<UploadState> => alone(sha256, () => stateNow(sha256));

  /** The state of many photos, in the order asked for. */
  const states = async (hashes: readonly string[]): Promise<readonly UploadState[]> => {
    const found = await db
      .selectFrom('photo_file')
      .select(['sha256', 'bytes', 'type'])
      .where('sha256', 'in', [...hashes])
      .execute();
    const stored = new Map(found.map((photo) => [photo.sha256, photo]));
    return Promise.all(
      hashes.map(async (hash): Promise<UploadState> => {
        const photo = stored.get(hash);
        const isHere = photo !== undefined && (await isWhole(photo));
        return isHere ? { state: 'stored', offset: photo.bytes } : state(hash);
      }),
    );
  };

  /** A photo that was renamed into place just before the power failed has no row yet. */
  const adopt = async (sha256: string): Promise<StoredPhoto | undefined> => {
    const path = pathOf(sha256);
    if ((await steps.size(path)) === null) return undefined;
    const { found, bytes, start } = await measure(steps.read(path));
    const type = photoType(start);
    return found === sha256 && type !== null ? enter({ sha256, bytes, type }) : undefined;
  };

  const enter = async (photo: StoredPhoto): Promise<StoredPhoto> => {
    await db
      .insertInto('photo_file')
      .values({ ...photo, stored_at: now() })
      .onConflict((c) => c.doNothing())
      .execute();
    return photo;
  };

  /** Adds bytes at `offset` of a photo of `length` bytes; with the last ones it is verified and kept. */
  const append = (sha256: string, offset: number, length: number, bytes: Uint8Array): Promise<UploadState> =>
    alone(sha256, async () => {
      const before = await stateNow(sha256);
      if (before.state === 'stored') return before;
      if (length > MOST_PHOTO_BYTES) throw tooLarge(`a photo of ${length} bytes`);
      if (offset !== before.offset) {
        throw fault('wrong-offset', `bytes from ${offset}`, {
          wanted: `bytes from ${before.offset}`,
          facts: { offset: before.offset },
        });
      }
      if (offset + bytes.length > length) {
        throw fault('wrong-length', `${offset + bytes.length} bytes of a photo said to have ${length}`);
      }
      const part = partOf(sha256);
      await steps.makeFolder(join(folder, 'incoming'));
      try {
        await steps.writeAt(part, offset, bytes);
      } catch (error) {
        // A full disk may have taken some of the bytes: go back to what was whole before.
        await (offset === 0 ? steps.remove(part) : steps.cutTo(part, offset)).catch(() => undefined);
        throw error;
      }
      if (offset + bytes.length < length) return { state: 'partial', offset: offset + bytes.length };
      await keep(sha256, part);
      return { state: 'stored', offset: length };
    });

  /** Takes a whole photo from a stream, for an archive that is read in. False when it was here already. */
  const take = (sha256: string, source: Readable): Promise<boolean> =>
    alone(sha256, async () => {
      if ((await stateNow(sha256)).state === 'stored') {
        source.destroy();
        return false;
      }
      const part = partOf(sha256);
      await steps.makeFolder(join(folder, 'incoming'));
      try {
        await pipeline(source, limitBytes, steps.write(part));
      } catch (error) {
        await steps.remove(part).catch(() => undefined);
        throw error;
      }
      await keep(sha256, part);
      return true;
    });

  const keep = async (sha256: string, part: string): Promise<void> => {
    await steps.flush(part);
    const { found, bytes, start } = await measure(steps.read(part));
    if (found !== sha256) {
      await steps.remove(part);
      throw fault('wrong-hash', `bytes with SHA-256 ${found}`, { wanted: sha256 });
    }
    const type = photoType(start);
    if (type === null) {
      await steps.remove(part);
      throw fault('not-a-photo', 'a file that is no photo');
    }
    const path = pathOf(sha256);
    await steps.makeFolder(join(path, '..'));
    await steps.rename(part, path);
    await steps.flush(join(path, '..'));
    await enter({ sha256, bytes, type });
  };

  /** Takes back a photo that came with an archive which then proved broken. */
  const forget = (sha256: string): Promise<void> =>
    alone(sha256, async () => {
      await db.deleteFrom('photo_file').where('sha256', '=', sha256).execute();
      await steps.remove(pathOf(sha256));
    });

  return {
    find,
    isWhole,
    state,
    states,
    append,
    take,
    forget,
    pathOf,
    read: (sha256: string) => steps.read(pathOf(sha256)),
  };
}

async function measure(stream: Readable): Promise<{ found: string; bytes: number; start: Uint8Array }> {
  const hash = createHash('sha256');
  let bytes = 0;
  let start: Uint8Array = new Uint8Array(0);
  for await (const chunk of stream as AsyncIterable<Uint8Array>) {
    hash.update(chunk);
    if (start.length < TYPE_BYTES) start = Buffer.concat([start, chunk.subarray(0, TYPE_BYTES - start.length)]);
    bytes += chunk.length;
  }
  return { found: hash.digest('hex'), bytes, start };
}

async function* limitBytes(source: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  let bytes = 0;
  for await (const chunk of source) {
    bytes += chunk.length;
    if (bytes > MOST_PHOTO_BYTES) throw tooLarge(`a photo of more than ${MOST_PHOTO_BYTES} bytes`);
    yield chunk;
  }
}

function tooLarge(found: string) {
  return fault('too-large', found, { wanted: `at most ${MOST_PHOTO_BYTES} bytes` });
}
