import { openDB } from 'idb';
import type { Store, StoreSchema } from './storeTypes.ts';

const NAME = 'rowledger';
const VERSION = 1;

/** Opens what this device holds, making it on the first visit. */
export function openStore(onBlocked: () => void = () => undefined): Promise<Store> {
  return openDB<StoreSchema>(NAME, VERSION, {
    upgrade(db) {
      const records = db.createObjectStore('records', { keyPath: 'id' });
      records.createIndex('thing', 'thingKey');
      records.createIndex('unsent', 'unsent');
      db.createObjectStore('drafts', { keyPath: 'thingKey' });
      db.createObjectStore('things', { keyPath: 'thingKey' });
      db.createObjectStore('rows', { keyPath: 'thingKey' }).createIndex('kind', 'kind');
      db.createObjectStore('photos', { keyPath: 'sha256' }).createIndex('waiting', 'waiting');
      db.createObjectStore('settings');
    },
    blocked: onBlocked,
  });
}
