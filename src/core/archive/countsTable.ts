import { isJsonObject, type Json, type JsonObject } from '../sync/json.ts';
import { parseQuantity } from '../visit/quantity.ts';
import { type CsvCell, csv } from './csv.ts';

const HEADER = [
  'visit',
  'visited_on',
  'season',
  'farm',
  'field',
  'market_class',
  'row_width_m',
  'spot',
  'latitude',
  'longitude',
  'count',
  'how',
  'rows',
  'length_m',
  'area_m2',
  'plants',
  'plants_low',
  'plants_high',
  'corrections',
  'photo_sha256',
] as const;

/** Every count of every visit, one line each, in metres: for a spreadsheet. What a visit does not say stays empty. */
export function countsTable(visits: Iterable<Json>): string {
  return csv(HEADER, rowsOf(visits));
}

function* rowsOf(visits: Iterable<Json>): Generator<readonly CsvCell[]> {
  for (const visit of visits) {
    if (!isJsonObject(visit)) continue;
    const planting = part(visit.planting);
    for (const spot of parts(visit.spots)) {
      const [latitude, longitude] = Array.isArray(spot.position) ? spot.position : [];
      for (const count of parts(spot.counts)) {
        const corrected = parts(visit.corrections).filter((one) => one.countId === count.id).length;
        yield [
          word(visit.id),
          word(visit.visitedOn),
          word(visit.season),
          word(part(visit.farm).name),
          word(part(visit.field).name),
          word(planting.marketClass),
          lengthM(planting.rowWidth),
          word(spot.id),
          number(latitude),
          number(longitude),
          word(count.id),
          word(count.kind),
          ...measured(count),
          corrected,
          word(part(part(count.result).photo).sha256),
        ];
      }
    }
  }
}

/** rows, length_m, area_m2, plants, plants_low, plants_high */
function measured(count: JsonObject): readonly CsvCell[] {
  switch (count.kind) {
    case 'rows': {
      const plants = (Array.isArray(count.plants) ? count.plants : []).filter((n) => typeof n === 'number');
      return [plants.length, lengthM(count.length), null, plants.reduce((a, b) => a + b, 0), null, null];
    }
    case 'hoop': {
      const diameter = lengthM(count.insideDiameter);
      return [null, null, diameter === null ? null : (Math.PI * diameter ** 2) / 4, number(count.plants), null, null];
    }
    case 'quadrat': {
      const [width, length] = [lengthM(count.width), lengthM(count.length)];
      const area = width === null || length === null ? null : width * length;
      return [null, length, area, number(count.plants), null, null];
    }
    default: {
      const result = part(count.result);
      const { value, low, high } = part(result.count);
      return [1, number(part(result.stretch).lengthM), null, number(value), number(low), number(high)];
    }
  }
}

function part(value: Json | undefined): JsonObject {
  return isJsonObject(value) ? value : {};
}

function parts(value: Json | undefined): readonly JsonObject[] {
  return Array.isArray(value) ? value.filter(isJsonObject) : [];
}

function word(value: Json | undefined): CsvCell {
  return typeof value === 'string' || typeof value === 'number' ? String(value) : null;
}

function number(value: Json | undefined): number | null {
  return typeof value === 'number' ? value : null;
}

function lengthM(value: Json | undefined): number | null {
  const read = typeof value === 'string' ? parseQuantity(value, 'length') : null;
  return read?.ok === true ? Number(read.value.toFixed(6)) : null;
}
