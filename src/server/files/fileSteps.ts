import { createReadStream, createWriteStream } from 'node:fs';
import { mkdir, open, readdir, rename, rm, stat, truncate } from 'node:fs/promises';
import type { Readable, Writable } from 'node:stream';

/** The steps that storing a file takes, one function each, so that a test can let any of them fail. */
export interface FileSteps {
  /** Bytes in the file, or null when there is none. */
  size(path: string): Promise<number | null>;
  makeFolder(path: string): Promise<void>;
  list(path: string): Promise<readonly string[]>;
  /** When the file was last written, ms since 1970. */
  changedMs(path: string): Promise<number>;
  /** Writes at a place in the file (made when absent) and waits until it is on the disk. */
  writeAt(path: string, offset: number, bytes: Uint8Array): Promise<void>;
  cutTo(path: string, bytes: number): Promise<void>;
  /** Waits until a file, or the list of names in a folder, is on the disk. */
  flush(path: string): Promise<void>;
  rename(from: string, to: string): Promise<void>;
  remove(path: string): Promise<void>;
  read(path: string): Readable;
  write(path: string): Writable;
}

export const diskSteps: FileSteps = {
  size: (path) =>
    stat(path).then(
      (found) => found.size,
      (error: NodeJS.ErrnoException) => {
        if (error.code === 'ENOENT') return null;
        throw error;
      },
    ),
  makeFolder: async (path) => {
    await mkdir(path, { recursive: true });
  },
  list: (path) => readdir(path),
  changedMs: async (path) => (await stat(path)).mtimeMs,
  writeAt: async (path, offset, bytes) => {
    const file = await open(path, offset === 0 ? 'w' : 'r+');
    try {
      let done = 0;
      while (done < bytes.length) {
        const { bytesWritten } = await file.write(bytes, done, bytes.length - done, offset + done);
        done += bytesWritten;
      }
      await file.datasync();
    } finally {
      await file.close();
    }
  },
  cutTo: truncate,
  flush: async (path) => {
    const file = await open(path, 'r');
    try {
      await file.sync();
    } finally {
      await file.close();
    }
  },
  rename,
  remove: (path) => rm(path, { force: true }),
  read: (path) => createReadStream(path),
  write: (path) => createWriteStream(path, { flags: 'w' }),
};
