import type { DerivedStore } from './files/derivedStore.ts';
import type { FileSteps } from './files/fileSteps.ts';
import type { PhotoStore } from './files/photoStore.ts';
import type { Database } from './store/tables.ts';

/** Everything the app needs from outside. Made by `openArchive` for a data folder; tests pass their own. */
export interface AppDeps {
  readonly db: Database;
  /** Given at random to a new archive; cursors belong to it. */
  readonly archiveId: string;
  readonly photos: PhotoStore;
  readonly derived: DerivedStore;
  readonly steps: FileSteps;
  /** The data folder. */
  readonly folder: string;
  /** The moment, ISO 8601 in UTC. */
  readonly now: () => string;
  /** A new random name, for temporary files. */
  readonly newId: () => string;
  /** The passphrase wanted from everybody; null: nobody but this computer can reach the server. */
  readonly token: string | null;
  /** Host names the server may be asked under; null: any (then a token is wanted). */
  readonly hosts: readonly string[] | null;
  /** The built web app; null: only the interface for programs. */
  readonly uiFolder: string | null;
  readonly version: string;
  /** Told about unexpected failures. */
  readonly report: (error: unknown) => void;
}
