import { thingKey } from '../../browser/store/storeTypes.ts';
import { good, type Outcome } from '../../core/faults/outcome.ts';
import type { Head } from '../../core/learning/head.ts';
import { EMPTY_SHELF, type HeadShelf, headInUse } from '../../core/learning/headShelf.ts';
import { readHeads } from '../../core/learning/headsDocument.ts';
import { isJsonObject, type Json } from '../../core/sync/json.ts';
import { store } from '../state/app.ts';

/** The heads of a document that may not be there yet. */
export function shelfIn(document: Json): Outcome<HeadShelf> {
  return isJsonObject(document) && document.schema !== undefined ? readHeads(document) : good(EMPTY_SHELF);
}

/** The heads that this device holds of a farm. */
export async function shelfOfFarm(farm: string): Promise<Outcome<HeadShelf>> {
  const key = thingKey('heads', farm);
  const [draft, held] = await Promise.all([store().get('drafts', key), store().get('things', key)]);
  return shelfIn(draft?.document ?? held?.document ?? {});
}

/** What new counts of a farm use; null: the stock detector, also where the heads cannot be read. */
export async function headOfFarm(farm: string): Promise<Head | null> {
  const shelf = await shelfOfFarm(farm);
  return shelf.ok ? headInUse(shelf.value) : null;
}
