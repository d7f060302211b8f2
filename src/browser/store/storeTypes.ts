import type { DBSchema, IDBPDatabase, IDBPTransaction, StoreNames } from 'idb';
import type { ChangeRecord, ThingKind } from '../../core/sync/changeRecord.ts';
import type { Json } from '../../core/sync/json.ts';
import type { Conflict } from '../../core/sync/mergeRecords.ts';

export interface HeldRecord {
  readonly id: string;
  readonly thingKey: string;
  readonly record: ChangeRecord;
  /** Present while the server has not said that it has it. */
  readonly unsent?: 1;
  /** Why the server will not take it; it is kept, and shown. */
  readonly refused?: string;
}

/** What a person is entering now: written with every tap, made into one record when they pause or leave. */
export interface Draft {
  readonly thingKey: string;
  readonly kind: ThingKind;
  readonly thing: string;
  readonly document: Json;
  readonly at: string;
}

/** What all records about one thing add up to, kept so that pages open at once. */
export interface HeldThing {
  readonly thingKey: string;
  readonly kind: ThingKind;
  readonly thing: string;
  readonly document: Json;
  readonly conflicts: readonly Conflict[];
}

/** What lists need of one thing; the documents themselves stay where they are. */
export interface Row {
  readonly thingKey: string;
  readonly kind: ThingKind;
  readonly thing: string;
  readonly brief: Json;
  readonly conflicts: number;
  readonly updatedAt: string;
}

export interface HeldPhoto {
  readonly sha256: string;
  readonly file: string;
  readonly blob: Blob;
  readonly bytes: number;
  readonly addedAt: string;
  readonly waiting?: 1;
  readonly trouble?: string;
}

export interface StoreSchema extends DBSchema {
  records: { key: string; value: HeldRecord; indexes: { thing: string; unsent: number } };
  drafts: { key: string; value: Draft };
  things: { key: string; value: HeldThing };
  rows: { key: string; value: Row; indexes: { kind: string } };
  photos: { key: string; value: HeldPhoto; indexes: { waiting: number } };
  settings: { key: string; value: Json };
}

export type Store = IDBPDatabase<StoreSchema>;
export type Writing<Names extends StoreNames<StoreSchema>[]> = IDBPTransaction<StoreSchema, Names, 'readwrite'>;
export type EditStores = ['records', 'drafts', 'things', 'rows', 'settings'];

export function thingKey(kind: ThingKind, thing: string): string {
  return `${kind}/${thing}`;
}
