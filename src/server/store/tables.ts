import type { Generated, Kysely } from 'kysely';
import type { ThingKind } from '../../core/sync/changeRecord.ts';

/** The log: every record ever received, in order of arrival. The truth; all other tables but `photo_file` follow from it. */
export interface RecordTable {
  n: Generated<number>;
  id: string;
  device: string;
  sequence: number;
  author: string;
  at: string;
  kind: ThingKind;
  thing: string;
  /** SHA-256 of `body`. */
  hash: string;
  /** Canonical JSON of the whole record. */
  body: string;
  received_at: string;
}

/** What lists are searched and sorted by. One row a thing, kept narrow: the document is in `document`. */
export interface ThingTable {
  kind: ThingKind | 'spot';
  id: string;
  farm: string | null;
  field: string | null;
  planting: string | null;
  visit: string | null;
  spot: string | null;
  season: string | null;
  class: string | null;
  verdict: string | null;
  date: string | null;
  title: string;
  search: string;
  photo: string | null;
  latitude: number | null;
  longitude: number | null;
  conflicts: number;
  removed: number;
  /** Why the document cannot be used as it stands; null when it can. */
  problem: string | null;
  author: string;
  updated_at: string;
}

export interface DocumentTable {
  kind: ThingKind;
  id: string;
  body: string;
  conflicts: string;
}

/** The originals that have arrived whole and were verified. */
export interface PhotoFileTable {
  sha256: string;
  bytes: number;
  type: string;
  stored_at: string;
}

export interface MetaTable {
  key: string;
  value: string;
}

export interface Tables {
  record: RecordTable;
  thing: ThingTable;
  document: DocumentTable;
  photo_file: PhotoFileTable;
  meta: MetaTable;
}

export type Database = Kysely<Tables>;
