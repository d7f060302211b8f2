import type { CountResult } from '../../core/count/countResult.ts';
import { isJsonObject, type Json } from '../../core/sync/json.ts';
import type { Database } from './tables.ts';

/** The newest machine count of a photo: of the detections kept beside it, else the one its visit holds; null without. */
export async function countOfPhoto(db: Database, sha256: string): Promise<CountResult | null> {
  const rows = await db
    .selectFrom('thing')
    .select(['kind', 'id', 'visit'])
    .where('photo', '=', sha256)
    .where('kind', 'in', ['detections', 'photo'])
    .orderBy('kind')
    .orderBy('date', 'desc')
    .execute();
  for (const { kind, id, visit } of rows) {
    const [from, thing] = kind === 'detections' ? (['detections', id] as const) : (['visit', visit ?? ''] as const);
    const held = await db
      .selectFrom('document')
      .select('body')
      .where('kind', '=', from)
      .where('id', '=', thing)
      .executeTakeFirst();
    const count = held === undefined ? null : countIn(JSON.parse(held.body) as Json, sha256);
    if (count !== null) return count;
  }
  return null;
}

function countIn(document: Json, sha256: string): CountResult | null {
  if (Array.isArray(document)) {
    for (const part of document) {
      const found = countIn(part, sha256);
      if (found !== null) return found;
    }
    return null;
  }
  if (!isJsonObject(document)) return null;
  const { photo } = document;
  const isCount = document.schema === 'rowledger/count@1' && isJsonObject(photo) && photo.sha256 === sha256;
  return isCount ? (document as unknown as CountResult) : countIn(Object.values(document), sha256);
}
