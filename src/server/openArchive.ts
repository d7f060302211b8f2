import { randomUUID } from 'node:crypto';
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { AppDeps } from './appDeps.ts';
import { fault } from './faults.ts';
import { clearIncoming } from './files/clearIncoming.ts';
import { createDerivedStore } from './files/derivedStore.ts';
import { diskSteps, type FileSteps } from './files/fileSteps.ts';
import { createPhotoStore } from './files/photoStore.ts';
import { openDatabase } from './store/openDatabase.ts';
import { takeOverTargets } from './store/takeOverTargets.ts';

export type Archive = Pick<
  AppDeps,
  'db' | 'archiveId' | 'photos' | 'derived' | 'steps' | 'folder' | 'now' | 'newId'
> & { readonly close: () => Promise<void> };

/**
 * Opens the archive in a data folder, making it when there is none: `rowledger.sqlite`, `photos/` (originals),
 * `incoming/` (halves, cleared of old ones here), `derived/` (may be deleted at any time). One server at a time: a second one is refused.
 */
export async function openArchive(folder: string, steps: FileSteps = diskSteps): Promise<Archive> {
  const root = resolve(folder);
  // The archive holds names and places of people: only the account that runs the server may look.
  mkdirSync(root, { recursive: true, mode: 0o700 });
  const unlock = lock(join(root, 'LOCK'));
  try {
    const now = () => new Date().toISOString();
    await clearIncoming(steps, root, Date.now());
    const { db, archiveId } = await openDatabase(join(root, 'rowledger.sqlite'), randomUUID);
    await takeOverTargets(db, randomUUID, now);
    const photos = createPhotoStore({ db, steps, folder: root, now });
    const derived = createDerivedStore({ steps, folder: root });
    const close = async () => {
      await db.destroy();
      unlock();
    };
    return { db, archiveId, photos, derived, steps, folder: root, now, newId: randomUUID, close };
  } catch (error) {
    unlock();
    throw error;
  }
}

function lock(path: string): () => void {
  for (;;) {
    try {
      writeFileSync(path, String(process.pid), { flag: 'wx' });
      return () => rmSync(path, { force: true });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    }
    const owner = Number(readFileSync(path, 'utf8'));
    if (owner !== process.pid && isRunning(owner)) {
      throw fault('in-use', `a data folder that process ${owner} has open (${path})`);
    }
    // Left behind by a server that was killed.
    rmSync(path, { force: true });
  }
}

function isRunning(pid: number): boolean {
  if (!Number.isInteger(pid) || pid <= 0) return false;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
