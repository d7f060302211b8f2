import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  documentEntryName,
  isBundleName,
  photoEntryName,
  readManifest,
  recordsEntryName,
} from '../../../src/core/archive/bundle.ts';
import { countsTable } from '../../../src/core/archive/countsTable.ts';
import { csv } from '../../../src/core/archive/csv.ts';
import { readDocument } from '../../../src/core/archive/documents.ts';
import { fieldsGeoJson } from '../../../src/core/archive/geoJson.ts';
import { indexThing } from '../../../src/core/archive/indexThing.ts';
import { SAME_SPOT_M, sameSpot } from '../../../src/core/archive/sameSpot.ts';
import type { Json } from '../../../src/core/sync/json.ts';
import { DEMO_VISITS } from '../../../src/core/visit/demo/demoVisits.ts';

describe('names in an exported archive', () => {
  test('every name this program gives is recognised, whatever the id', () => {
    fc.assert(
      fc.property(
        fc.string({ maxLength: 128, unit: 'grapheme' }),
        fc.constantFrom('visit', 'field', 'detections'),
        (id, kind) => {
          expect(isBundleName(documentEntryName(kind, id.slice(0, 128), '0123abcd'))).toBe(true);
        },
      ),
    );
    const sha256 = 'ab'.repeat(32);
    for (const type of ['image/jpeg', 'image/png', 'image/webp', 'image/avif', 'image/heic']) {
      expect(isBundleName(photoEntryName(sha256, type))).toBe(true);
    }
    expect(isBundleName(recordsEntryName(1))).toBe(true);
  });

  test.each([
    '',
    '/',
    '..',
    '../rowledger.json',
    'records/../../x',
    'photos/ab/x.jpg',
    'records/1.jsonl',
    'rowledger.json/',
    'con',
    'documents/visit/.json',
    'documents/visit/a/b.json',
  ])('%j is not one', (name) => {
    expect(isBundleName(name)).toBe(false);
  });

  test.each([
    ['{', 'not-an-archive'],
    ['[]', 'not-an-archive'],
    ['{"schema":"rowledger/visit@2"}', 'not-an-archive'],
    ['{"schema":"rowledger/archive@99"}', 'too-new'],
    ['{"schema":"rowledger/archive@1","records":7}', 'broken-archive'],
  ])('the list of contents %s is refused', (text, code) => {
    expect(readManifest(text)).toMatchObject({ ok: false, code });
  });
});

describe('tables for people', () => {
  test('a cell is quoted where RFC 4180 wants it, and never runs as a formula', () => {
    expect(
      csv(
        ['a', 'b'],
        [
          ['x,y', 'say "no"'],
          ['=1+1', '@me'],
          [null, -3.5],
          [Number.NaN, 'two\nlines'],
        ],
      ),
    ).toBe('a,b\r\n"x,y","say ""no"""\r\n\'=1+1,\'@me\r\n,-3.5\r\n,"two\nlines"\r\n');
  });

  test('lengths come in metres from what was written, and what is missing stays empty', () => {
    const visit = {
      id: 'v1',
      planting: { rowWidth: '30 in' },
      spots: [
        { id: 's1', counts: [{ id: 'c1', kind: 'rows', length: '17 ft 5 in', plants: [40, 38] }] },
        { id: 's2', counts: [{ id: 'c2', kind: 'hoop', insideDiameter: '1 m', plants: 20 }] },
        { id: 's3', counts: [{ id: 'c3', kind: 'quadrat', width: '50 cm', length: '2 m', plants: 9 }] },
        'nonsense',
      ],
    };
    const lines = countsTable([visit, null, 'nonsense']).trimEnd().split('\r\n').slice(1);
    // 17 ft 5 in is 5.3086 m and 30 in is 0.762 m by the definition of the inch (25.4 mm); a hoop of 1 m holds pi/4 m2.
    expect(lines).toEqual([
      'v1,,,,,,0.762,s1,,,c1,rows,2,5.3086,,78,,,0,',
      `v1,,,,,,0.762,s2,,,c2,hoop,,,${Math.PI / 4},20,,,0,`,
      'v1,,,,,,0.762,s3,,,c3,quadrat,,2,1,9,,,0,',
    ]);
  });
});

describe('outlines as GeoJSON', () => {
  const ringOf = (outline: Json) =>
    (
      JSON.parse(fieldsGeoJson([{ id: 'f', document: { name: 'F', outline } }])) as {
        features: { geometry: { coordinates: number[][][] } | null }[];
      }
    ).features[0]?.geometry?.coordinates[0] ?? null;
  const square = [
    [47, -98],
    [47, -97],
    [48, -97],
    [48, -98],
  ];

  // RFC 7946, 3.1.1 and 3.1.6: longitude first, first and last position equal, exterior ring anticlockwise.
  test('is closed, anticlockwise and longitude first, whichever way it was walked', () => {
    const wanted = [
      [-98, 47],
      [-97, 47],
      [-97, 48],
      [-98, 48],
      [-98, 47],
    ];
    expect(ringOf(square)).toEqual(wanted);
    const back = ringOf([...square].reverse()) as number[][];
    expect(back[0]).toEqual(back.at(-1));
    expect(new Set(back.map(String))).toEqual(new Set(wanted.map(String)));
    let twiceArea = 0;
    back.slice(0, -1).forEach(([x, y], i) => {
      twiceArea += x! * back[i + 1]![1]! - back[i + 1]![0]! * y!;
    });
    expect(twiceArea).toBeGreaterThan(0);
  });

  test.each([
    [null],
    [[]],
    [[[47, -98]]],
    [
      [
        [47, -98],
        [47, -97],
        ['x', 1],
      ],
    ],
    ['text'],
  ])('%j gives no geometry', (outline) => {
    expect(ringOf(outline as Json)).toBeNull();
  });
});

describe('whether two spots are the same place', () => {
  const place = (latitude: number | null, longitude: number | null, spot = 's1') => ({ latitude, longitude, spot });

  // One degree of latitude is 111.167 km at 47 N, one of longitude 55.800 km at 60 N (WGS 84, radii of curvature).
  test('by distance on the ground, the same in both directions, across the date line too', () => {
    const [a, b] = [place(47, -98), place(47 + 10 / 111_167, -98)];
    expect(sameSpot(a, b)?.distanceM).toBeCloseTo(10, 2);
    expect(sameSpot(b, a)?.distanceM).toBeCloseTo(sameSpot(a, b)?.distanceM ?? 0, 6);
    expect(sameSpot(place(0, 179.99999), place(0, -179.99999))?.distanceM).toBeCloseTo(2 * 0.00001 * 111_320, 2);
    expect(sameSpot(place(60, 10), place(60, 10 + 10 / 55_800))?.distanceM).toBeCloseTo(10, 2);
    expect(sameSpot(a, place(47 + (SAME_SPOT_M + 1) / 111_167, -98))).toBeNull();
  });

  test('a name counts only where a position is missing', () => {
    expect(sameSpot(place(null, null), place(47, -98))).toEqual({ by: 'name', distanceM: null });
    expect(sameSpot(place(null, null), place(47, -98, 's2'))).toBeNull();
    expect(sameSpot(place(47, -98), place(48, -98))).toBeNull();
  });
});

describe('index entries', () => {
  test('a demonstration visit gives itself, its spots, and what it is searched by', () => {
    for (const visit of DEMO_VISITS) {
      const [own, ...parts] = indexThing('visit', visit.id, visit as unknown as Json);
      expect(own).toMatchObject({
        field: visit.field.id,
        season: String(visit.season),
        class: visit.planting.marketClass,
        date: visit.visitedOn,
      });
      expect(own?.search).toContain(visit.farm.name.toLowerCase());
      expect(parts.filter((part) => part.kind === 'spot')).toHaveLength(visit.spots.length);
      expect(readDocument('visit', visit as unknown as Json).ok).toBe(true);
    }
  });

  test('any document at all is indexed without failing', () => {
    const kinds = ['farm', 'field', 'planting', 'visit', 'photo', 'detections'] as const;
    fc.assert(
      fc.property(fc.jsonValue(), fc.constantFrom(...kinds), (document, kind) => {
        expect(indexThing(kind, 'x', document as Json)[0]).toMatchObject({ kind, id: 'x' });
        readDocument(kind, document as Json);
      }),
    );
  });

  test('documents of the archive are checked, and the refusal names the place', () => {
    expect(readDocument('field', { schema: 'rowledger/field@1', id: 'f', name: 'F', area: '80 ac' }).ok).toBe(true);
    expect(readDocument('field', { schema: 'rowledger/field@1', id: 'f', name: 'F', area: 80 })).toMatchObject({
      ok: false,
      code: 'not valid',
    });
    expect(readDocument('photo', { schema: 'rowledger/photo@1', id: 'not a hash' })).toMatchObject({
      ok: false,
      found: expect.stringContaining('id'),
    });
  });
});
