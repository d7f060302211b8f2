import { cannot, good, type Outcome } from '../faults/outcome.ts';
import type { Position } from '../sampling/randomPoints.ts';
import { isJsonObject, type Json } from '../sync/json.ts';

/** One outline of a GeoJSON text, with the name it carries there. */
export interface NamedOutline {
  readonly name: string | null;
  readonly outline: readonly Position[];
  /** Rings cut out of it, which are not kept: a stop can fall in them. */
  readonly holes: number;
}

const MOST_CORNERS = 2000;
const NAMES = ['name', 'Name', 'NAME', 'field', 'title', 'label'];

/**
 * The polygons of a GeoJSON text (RFC 7946, 2016: longitude before latitude), each as an outline of corners, latitude
 * first, the closing corner left out. Reads bare geometries, features and collections. Refuses what is no GeoJSON, what
 * holds no polygon, corners that are no degrees, and outlines of more than 2,000 corners.
 */
export function outlinesFromGeoJson(text: string): Outcome<readonly NamedOutline[]> {
  const refuse = (found: string) => cannot('outline', found, 'GeoJSON with one polygon a field', 'Export it again.');
  let root: Json;
  try {
    root = JSON.parse(text) as Json;
  } catch {
    return refuse('text that is not JSON');
  }
  const outlines: NamedOutline[] = [];
  for (const { name, rings } of polygonsIn(root, null)) {
    const [outer, ...holes] = rings.map(ringOf);
    if (outer === undefined || outer === null || outer.length < 3) return refuse('a polygon without three corners');
    if (outer.length > MOST_CORNERS) return refuse(`an outline of ${outer.length} corners, more than ${MOST_CORNERS}`);
    const off = outer.find(([latitude, longitude]) => !(Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180));
    if (off !== undefined) return refuse(`a corner at ${off[1]}, ${off[0]}, which is no longitude and latitude`);
    outlines.push({ name, outline: outer, holes: holes.length });
  }
  return outlines.length > 0 ? good(outlines) : refuse('no polygon');
}

interface Polygon {
  readonly name: string | null;
  readonly rings: readonly Json[];
}

function polygonsIn(value: Json | undefined, name: string | null): readonly Polygon[] {
  if (!isJsonObject(value)) return [];
  const each = (list: Json | undefined) => (Array.isArray(list) ? list : []);
  switch (value.type) {
    case 'FeatureCollection':
      return each(value.features).flatMap((feature) => polygonsIn(feature, null));
    case 'GeometryCollection':
      return each(value.geometries).flatMap((geometry) => polygonsIn(geometry, name));
    case 'Feature':
      return polygonsIn(value.geometry, nameOf(value.properties) ?? name);
    case 'Polygon':
      return [{ name, rings: each(value.coordinates) }];
    case 'MultiPolygon':
      return each(value.coordinates).map((rings) => ({ name, rings: each(rings) }));
    default:
      return [];
  }
}

function nameOf(properties: Json | undefined): string | null {
  if (!isJsonObject(properties)) return null;
  const found = NAMES.map((key) => properties[key]).find((one) => typeof one === 'string' && one.trim() !== '');
  return typeof found === 'string' ? found.trim() : null;
}

/** Corners of a ring, latitude first, without the closing one; null where a corner is no pair of numbers. */
function ringOf(ring: Json): readonly Position[] | null {
  if (!Array.isArray(ring)) return null;
  const corners = ring.map((corner): Position | null => {
    const [longitude, latitude] = Array.isArray(corner) ? corner : [];
    return typeof longitude === 'number' && typeof latitude === 'number' ? [latitude, longitude] : null;
  });
  if (corners.some((corner) => corner === null)) return null;
  const whole = corners as Position[];
  const [first, last] = [whole[0], whole.at(-1)];
  const closed = whole.length > 1 && first?.[0] === last?.[0] && first?.[1] === last?.[1];
  return closed ? whole.slice(0, -1) : whole;
}
