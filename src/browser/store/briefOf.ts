import type { ThingKind } from '../../core/sync/changeRecord.ts';
import { isJsonObject, type Json, type JsonObject } from '../../core/sync/json.ts';

/** A document without its heavy parts: of a count stays what it is and its photo, of lists not shown in lists nothing. */
export function briefOf(kind: ThingKind, document: Json): Json {
  if (kind === 'heads' || kind === 'targets') return {};
  if (kind !== 'visit' || !isJsonObject(document)) return document;
  const { farm, field, planting, season, visitedOn, units, people, zones, removed } = document;
  const spots = objects(document.spots).map((spot) => ({
    id: spot.id ?? '',
    position: spot.position ?? null,
    photos: objects(spot.counts).flatMap((count) => {
      const result = isJsonObject(count.result) ? count.result : {};
      const photo = isJsonObject(result.photo) ? result.photo : {};
      return typeof photo.sha256 === 'string' ? [photo.sha256] : [];
    }),
  }));
  const kept = { farm, field, planting, season, visitedOn, units, people, zones, removed };
  const there = Object.entries(kept).filter((entry): entry is [string, Json] => entry[1] !== undefined);
  return { ...Object.fromEntries(there), spots } as JsonObject;
}

function objects(list: Json | undefined): readonly JsonObject[] {
  return Array.isArray(list) ? list.filter(isJsonObject) : [];
}
