import type { ThingKind } from '../sync/changeRecord.ts';
import { isJsonObject, type Json, type JsonObject } from '../sync/json.ts';

/** What lists are searched, filtered and sorted by. Null: the document does not say. */
export interface IndexEntry {
  readonly kind: ThingKind | 'spot';
  readonly id: string;
  readonly farm: string | null;
  readonly field: string | null;
  readonly planting: string | null;
  readonly visit: string | null;
  readonly spot: string | null;
  readonly season: string | null;
  readonly class: string | null;
  readonly date: string | null;
  readonly title: string;
  /** Lower-case words that a search looks through. */
  readonly search: string;
  /** SHA-256 of the photo the entry is about. */
  readonly photo: string | null;
  readonly latitude: number | null;
  readonly longitude: number | null;
}

const NO_ENTRY = {
  farm: null,
  field: null,
  planting: null,
  visit: null,
  spot: null,
  season: null,
  class: null,
  date: null,
  title: '',
  search: '',
  photo: null,
  latitude: null,
  longitude: null,
} as const;

/**
 * The index entries of one document, its own first. A visit also gives its spots and the photos counted in them.
 * Reads leniently: a document that two edits left invalid, or one of a newer version, must still be found.
 */
export function indexThing(kind: ThingKind, id: string, document: Json): readonly IndexEntry[] {
  const fields = isJsonObject(document) ? document : {};
  if (kind === 'visit') return indexVisit(id, fields);
  const own = { ...NO_ENTRY, kind, id };
  switch (kind) {
    case 'farm':
      return [{ ...own, farm: id, ...titled(text(fields.name), text(fields.region)) }];
    case 'field':
      return [
        { ...own, field: id, farm: text(fields.farmId), ...titled(text(fields.name)), ...centre(fields.outline) },
      ];
    case 'planting': {
      const marketClass = text(fields.marketClass);
      return [
        {
          ...own,
          planting: id,
          field: text(fields.fieldId),
          season: text(fields.season),
          class: marketClass,
          date: text(fields.plantedOn),
          ...titled(marketClass, text(fields.variety)),
        },
      ];
    }
    case 'photo':
      return [
        {
          ...own,
          field: text(fields.fieldId),
          visit: text(fields.visitId),
          spot: text(fields.spotId),
          date: text(fields.takenAt),
          photo: id,
          ...titled(text(fields.note)),
          ...at(fields.position),
        },
      ];
    case 'heads': {
      const last = objects(fields.changes).at(-1);
      const inUse = text(last?.inUse) ?? 'stock detector';
      return [{ ...own, farm: id, date: text(last?.at), ...titled(inUse) }];
    }
    case 'targets':
      return [{ ...own, ...titled(text(fields.name)) }];
    case 'detections': {
      const model = isJsonObject(fields.model) ? fields.model : {};
      return [
        { ...own, photo: text(fields.photo), date: text(fields.at), ...titled(text(model.name), text(model.version)) },
      ];
    }
  }
}

function indexVisit(id: string, visit: JsonObject): readonly IndexEntry[] {
  const [farm, field, planting] = [visit.farm, visit.field, visit.planting].map((part) =>
    isJsonObject(part) ? part : {},
  );
  const shared = {
    ...NO_ENTRY,
    farm: text(farm?.id),
    field: text(field?.id),
    planting: text(planting?.id),
    visit: id,
    season: text(visit.season),
    class: text(planting?.marketClass),
  };
  const day = text(visit.visitedOn);
  const entries: IndexEntry[] = [
    {
      ...shared,
      kind: 'visit',
      id,
      date: day,
      ...titled(text(field?.name), text(farm?.name), shared.class, text(planting?.variety), ...peopleOf(visit)),
    },
  ];
  for (const spot of objects(visit.spots)) {
    const spotId = text(spot.id);
    if (spotId === null) continue;
    const date = text(spot.countedAt) ?? day;
    const ofSpot = { ...shared, spot: spotId, date, ...at(spot.position) };
    entries.push({ ...ofSpot, kind: 'spot', id: `${id}/${spotId}`, ...titled(spotId, text(spot.note)) });
    for (const count of objects(spot.counts)) {
      const photo = isJsonObject(count.result) && isJsonObject(count.result.photo) ? count.result.photo : {};
      const sha256 = text(photo.sha256);
      if (sha256 === null || !/^[0-9a-f]{64}$/.test(sha256)) continue;
      const taken = text(photo.takenAt) ?? date;
      entries.push({ ...ofSpot, kind: 'photo', id: sha256, date: taken, photo: sha256, ...titled(text(photo.file)) });
    }
  }
  return entries;
}

function peopleOf(visit: JsonObject): readonly (string | null)[] {
  return objects(visit.people).map((person) => text(person.name));
}

function objects(list: Json | undefined): readonly JsonObject[] {
  return Array.isArray(list) ? list.filter(isJsonObject) : [];
}

function text(value: Json | undefined): string | null {
  if (typeof value === 'number') return String(value);
  return typeof value === 'string' && value !== '' ? value : null;
}

function titled(...words: readonly (string | null)[]): { title: string; search: string } {
  return {
    title: words[0] ?? '',
    search: words
      .filter((word) => word !== null)
      .join(' ')
      .toLowerCase(),
  };
}

function at(position: Json | undefined): { latitude: number | null; longitude: number | null } {
  const [latitude, longitude] = Array.isArray(position) ? position : [];
  if (typeof latitude !== 'number' || typeof longitude !== 'number') return { latitude: null, longitude: null };
  return { latitude, longitude };
}

/** Middle of the box around an outline: good enough to sort fields by distance. */
function centre(outline: Json | undefined): { latitude: number | null; longitude: number | null } {
  const corners = (Array.isArray(outline) ? outline : []).map(at).filter((c) => c.latitude !== null);
  if (corners.length === 0) return at(undefined);
  const middle = (values: readonly number[]) => (Math.min(...values) + Math.max(...values)) / 2;
  return {
    latitude: middle(corners.map((c) => c.latitude as number)),
    longitude: middle(corners.map((c) => c.longitude as number)),
  };
}
