import { describe, expect, test } from 'vitest';
import { briefOf } from '../../src/browser/store/briefOf.ts';
import type { Row } from '../../src/browser/store/storeTypes.ts';
import type { ThingKind } from '../../src/core/sync/changeRecord.ts';
import type { Json } from '../../src/core/sync/json.ts';
import { DEMO_VISITS } from '../../src/core/visit/demo/demoVisits.ts';
import { readVisit } from '../../src/core/visit/readVisit.ts';
import type { VisitDocument } from '../../src/core/visit/visitSchema.ts';
import { fieldList } from '../../src/ui/edits/fieldList.ts';
import { photoOptions } from '../../src/ui/edits/photoOptions.ts';
import {
  addCorrection,
  addCount,
  addDecision,
  addImpression,
  changeCount,
  countAfterAll,
  leftOutBy,
  personId,
  photoCount,
  putDamage,
  putDigCheck,
  startVisit,
} from '../../src/ui/edits/visitEdits.ts';
import { walkStops } from '../../src/ui/edits/walkStops.ts';

const AT = '2026-06-18T09:00:00.000Z';
const START = {
  id: 'v1',
  visitedOn: '2026-06-18',
  units: 'imperial',
  name: 'Ada Lind',
  farm: { id: 'farm-1', name: 'Hollow Elm Farm' },
  field: { id: 'field-1', name: 'Ridge Forty', area: '38 ac' },
  season: 2026,
  planting: { id: 'planting-1', plantedOn: '2026-06-01', marketClass: 'pinto', rowWidth: '30 in' },
} as const;
const SPOT = { id: 'spot-1', name: 'Ben Okoro', at: AT, position: [47.1, -98.2] as [number, number], note: undefined };

function visitAfter(...edits: readonly ((document: Json) => Json)[]): VisitDocument {
  const document = edits.reduce((now, edit) => edit(now), {} as Json);
  const read = readVisit(document);
  if (!read.ok) throw new Error(read.found);
  return read.value;
}

const counted = (sha256: string, plants: number) =>
  photoCount(`c-${plants}`, {
    schema: 'rowledger/count@1',
    photo: { file: 'a.jpg', sha256 },
    stretch: { fromM: 0, toM: 3, lengthM: 3 },
    plants: [],
    count: { value: plants, low: plants, high: plants, level: 0.9 },
    gaps: [],
  });

describe('edits of a visit give documents that the engine reads', () => {
  test('from start to decision, everybody who did something named', () => {
    const visit = visitAfter(
      startVisit(START),
      addImpression('i1', 'Ada Lind', AT, 'wait', ' thin '),
      addCount(SPOT, { id: 'c1', kind: 'rows', length: '10 ft', plants: [0] }),
      changeCount('spot-1', 'c1', (count) => (count.kind === 'rows' ? { ...count, plants: [31] } : count)),
      addCorrection('k1', 'Cora Dahl', AT, 'c1', { kind: 'set row plants', row: 0, plants: 32 }, undefined),
      putDamage({ id: 'd1', hazard: 'hail', happenedOn: '2026-06-17' }),
      putDamage({ id: 'd1', hazard: 'frost', happenedOn: '2026-06-17' }),
      putDigCheck({ id: 'g1', on: '2026-06-18', sprouting: 1, hard: 0, rotted: 2, eaten: 0, notFound: 0 }),
      addDecision('e1', 'Ada Lind', AT, 'wait', 'Wait'),
    );
    expect(visit.people.map((person) => person.name)).toEqual(['Ada Lind', 'Ben Okoro', 'Cora Dahl']);
    expect(visit.impressions?.[0]?.words).toBe('thin');
    expect(visit.spots[0]?.counts[0]).toMatchObject({ plants: [31] });
    expect(visit.damage).toMatchObject([{ hazard: 'frost' }]);
  });

  test('a count of a photo that is to count after all takes the place of the one made since', () => {
    const sha256 = 'ab'.repeat(32);
    const [older, newer, elsewhere] = [counted(sha256, 30), counted(sha256, 31), counted('cd'.repeat(32), 29)];
    const recounted = [
      startVisit(START),
      addCount(SPOT, older),
      addCount(SPOT, elsewhere),
      addCount(SPOT, newer, true),
      addCorrection('k1', 'Ada Lind', AT, older.id, { kind: 'leave out' }, 'counted again'),
    ];
    const counting = (visit: VisitDocument) =>
      visit.spots[0]!.counts.filter(({ id }) => leftOutBy(visit, id).length === 0).map(({ id }) => id);
    expect(counting(visitAfter(...recounted))).toEqual([elsewhere.id, newer.id]);
    const back = countAfterAll('k2', 'Ben Okoro', AT, older.id);
    expect(counting(visitAfter(...recounted, back))).toEqual([older.id, elsewhere.id]);
    // Asked twice, by a slip or on two devices, it stays so; and there is a way to and fro.
    expect(counting(visitAfter(...recounted, back, countAfterAll('k3', 'Ada Lind', AT, older.id)))).toEqual([
      older.id,
      elsewhere.id,
    ]);
    expect(counting(visitAfter(...recounted, back, countAfterAll('k3', 'Ada Lind', AT, newer.id)))).toEqual([
      elsewhere.id,
      newer.id,
    ]);
    const { corrections } = visitAfter(...recounted, back);
    expect(corrections?.map(({ id, by }) => [id, by])).toEqual([
      ['k1', 'ada-lind'],
      ['k2-1', 'ben-okoro'],
      ['k2-2', 'ben-okoro'],
    ]);
  });

  test('a photo counts once in its spot, and twice only where that was meant', () => {
    const [first, second] = [counted('ab'.repeat(32), 30), counted('ab'.repeat(32), 31)];
    const once = visitAfter(startVisit(START), addCount(SPOT, first), addCount(SPOT, second));
    expect(once.spots[0]?.counts).toHaveLength(1);
    const again = visitAfter(startVisit(START), addCount(SPOT, first), addCount(SPOT, second, true));
    expect(again.spots[0]?.counts).toHaveLength(2);
    const other = visitAfter(startVisit(START), addCount(SPOT, first), addCount(SPOT, counted('cd'.repeat(32), 29)));
    expect(other.spots[0]?.counts).toHaveLength(2);
  });

  test.each([
    ['Ada Lind', 'ada-lind'],
    ['  ', 'unnamed'],
    ['Жанна', 'жанна'],
    ['José O’Neil', 'jose-o-neil'],
  ])('%s is known as %s', (name, id) => {
    expect(personId(name)).toBe(id);
  });
});

describe('stops of the walk', () => {
  const visit = visitAfter(startVisit(START));

  test('stay the same for one visit, and differ between visits', () => {
    expect(walkStops(visit, 0)).toEqual(walkStops(visit, 0));
    expect(walkStops({ ...visit, id: 'v2' }, 0)).not.toEqual(walkStops(visit, 0));
  });

  test('more counted spots add stops and move none', () => {
    const [few, many] = [walkStops(visit, 2), walkStops(visit, 9)];
    if (!few.ok || !many.ok) throw new Error('no stops');
    expect(many.value.slice(0, few.value.length)).toEqual(few.value);
    expect(many.value.length).toBeGreaterThan(9);
    expect(many.value.map((stop) => stop.number)).toEqual(many.value.map((_, i) => i + 1));
  });

  test.each(['0.02 ac', '0.5 ac', '640 ac', undefined])('lie inside a field of %s', (area) => {
    const { area: _area, ...field } = visit.field;
    const stops = walkStops({ ...visit, field: area === undefined ? field : { ...field, area } }, 9);
    if (!stops.ok) throw new Error(stops.found);
    for (const stop of stops.value) expect(Math.min(stop.rowsOver, stop.pacesIn)).toBeGreaterThanOrEqual(0);
  });
});

describe('what a photo is counted with', () => {
  const typed = { reference: 'tape:in', from: '', to: '', cameraHeight: '' };
  const { planting } = START;

  test('row width comes from the planting, stretch and height from what was typed', () => {
    const read = photoOptions({ ...typed, from: '1 ft', to: '11 ft', cameraHeight: '5 ft' }, planting, [0, 0, 1]);
    if (!read.ok) throw new Error(read.found);
    expect(read.value.rowWidthM).toBeCloseTo(0.762, 9);
    expect(read.value.stretch?.fromM).toBeCloseTo(0.3048, 9);
    expect(read.value.stretch?.toM).toBeCloseTo(3.3528, 9);
    expect(read.value.cameraHeight).toMatchObject({ given: true });
    expect(read.value.gravity).toEqual([0, 0, 1]);
  });

  test('a length without its unit is refused by the name of its field', () => {
    const read = photoOptions({ ...typed, to: '10' }, planting, null);
    expect(read).toMatchObject({ ok: false, found: expect.stringContaining('count to') });
  });

  test('an end before the beginning counts as far as the photo shows', () => {
    const read = photoOptions({ ...typed, from: '10 ft', to: '2 ft' }, planting, null);
    expect(read.ok && read.value.stretch).toBeNull();
  });
});

describe('the list of fields', () => {
  const row = (kind: ThingKind, thing: string, document: Json, updatedAt = '1'): Row => ({
    thingKey: `${kind}/${thing}`,
    kind,
    thing,
    brief: briefOf(kind, document),
    conflicts: 0,
    updatedAt,
  });
  const demo = DEMO_VISITS.map((visit) => row('visit', visit.id, visit as unknown as Json));

  test('knows fields from their visits alone, last visited first', () => {
    const fields = fieldList(demo);
    expect(fields.map((entry) => entry.field.name)).toContain('River Eighty');
    const days = fields.map((entry) => entry.visits[0]?.visitedOn ?? '');
    expect(days).toEqual([...days].sort().reverse());
    expect(fields.every((entry) => entry.plantings.length > 0)).toBe(true);
  });

  test("a field's own record wins over what visits say of it", () => {
    const [visit] = DEMO_VISITS;
    const own = { schema: 'rowledger/field@1', ...visit!.field, name: 'Renamed', farmId: visit!.farm.id };
    const entry = fieldList([...demo, row('field', visit!.field.id, own as never)]).find(
      (one) => one.field.id === visit!.field.id,
    );
    expect(entry).toMatchObject({ field: { name: 'Renamed' }, farm: { name: visit!.farm.name } });
    expect(entry?.visits.length).toBeGreaterThan(0);
  });

  test('nothing recorded, nothing listed; what was removed is gone', () => {
    expect(fieldList([])).toEqual([]);
    expect(fieldList([row('field', 'f', { id: 'f', name: 'Gone', removed: true })])).toEqual([]);
  });
});
