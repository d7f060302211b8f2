import { isJsonObject, type Json } from '../sync/json.ts';
import type { IndexEntry } from './indexThing.ts';

type Position = readonly [longitude: number, latitude: number];

/**
 * Fields as GeoJSON (RFC 7946, 2016): longitude before latitude, rings closed and anticlockwise. A field without an
 * outline has no geometry.
 */
export function fieldsGeoJson(fields: Iterable<{ readonly id: string; readonly document: Json }>): string {
  const features = [...fields].map(({ id, document }) => {
    const field = isJsonObject(document) ? document : {};
    const ring = outline(field.outline);
    return {
      type: 'Feature',
      id,
      geometry: ring === null ? null : { type: 'Polygon', coordinates: [ring] },
      properties: { name: field.name ?? null, area: field.area ?? null },
    };
  });
  return JSON.stringify({ type: 'FeatureCollection', features });
}

/** Spots as GeoJSON points; those without a position have no geometry. */
export function spotsGeoJson(spots: Iterable<IndexEntry>): string {
  const features = [...spots].map(
    ({ id, field, visit, spot, date, season, latitude, longitude, class: marketClass }) => ({
      type: 'Feature',
      id,
      geometry: latitude === null || longitude === null ? null : { type: 'Point', coordinates: [longitude, latitude] },
      properties: { field, visit, spot, date, season, marketClass },
    }),
  );
  return JSON.stringify({ type: 'FeatureCollection', features });
}

function outline(corners: Json | undefined): readonly Position[] | null {
  if (!Array.isArray(corners) || corners.length < 3) return null;
  const ring = corners.map((corner): Position => [Number(corner?.[1]), Number(corner?.[0])]);
  if (!ring.flat().every(Number.isFinite)) return null;
  let twiceArea = 0;
  ring.forEach(([x, y], i) => {
    const [nextX, nextY] = ring[(i + 1) % ring.length] as Position;
    twiceArea += x * nextY - nextX * y;
  });
  const turned = twiceArea < 0 ? ring.toReversed() : ring;
  return [...turned, turned[0] as Position];
}
