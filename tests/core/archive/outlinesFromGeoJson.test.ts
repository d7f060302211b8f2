import { describe, expect, it } from 'vitest';
import { fieldsGeoJson } from '../../../src/core/archive/geoJson.ts';
import { outlinesFromGeoJson } from '../../../src/core/archive/outlinesFromGeoJson.ts';

const read = (value: unknown) => outlinesFromGeoJson(JSON.stringify(value));

/** The polygon with a hole of RFC 7946, appendix A.3. */
const WITH_HOLE = {
  type: 'Polygon',
  coordinates: [
    [
      [100.0, 0.0],
      [101.0, 0.0],
      [101.0, 1.0],
      [100.0, 1.0],
      [100.0, 0.0],
    ],
    [
      [100.8, 0.8],
      [100.8, 0.2],
      [100.2, 0.2],
      [100.2, 0.8],
      [100.8, 0.8],
    ],
  ],
};

describe('outlines from GeoJSON', () => {
  it('turns longitude and latitude around, leaves the closing corner out, and says that a hole is lost', () => {
    expect(read(WITH_HOLE)).toEqual({
      ok: true,
      value: [
        {
          name: null,
          outline: [
            [0, 100],
            [0, 101],
            [1, 101],
            [1, 100],
          ],
          holes: 1,
        },
      ],
    });
  });

  it('reads what the archive writes', () => {
    const outline = [
      [47, -98],
      [47, -97.99],
      [47.01, -97.99],
    ];
    const text = fieldsGeoJson([
      { id: 'f1', document: { name: 'Ridge Forty', outline } },
      { id: 'f2', document: { name: 'No outline' } },
    ]);
    expect(outlinesFromGeoJson(text)).toEqual({ ok: true, value: [{ name: 'Ridge Forty', outline, holes: 0 }] });
  });

  it('finds every polygon of collections, with the name of its feature', () => {
    const ring = [
      [
        [1, 2],
        [3, 2],
        [3, 4],
        [1, 2],
      ],
    ];
    const found = read({
      type: 'FeatureCollection',
      features: [
        {
          type: 'Feature',
          properties: { Name: ' East ' },
          geometry: { type: 'MultiPolygon', coordinates: [ring, ring] },
        },
        { type: 'Feature', properties: null, geometry: { type: 'Point', coordinates: [1, 2] } },
        {
          type: 'Feature',
          properties: {},
          geometry: { type: 'GeometryCollection', geometries: [{ type: 'Polygon', coordinates: ring }] },
        },
      ],
    });
    expect(found.ok && found.value.map((one) => one.name)).toEqual(['East', 'East', null]);
  });

  it.each([
    ['nonsense', 'text that is not JSON'],
    ['[]', 'no polygon'],
    ['{"type":"FeatureCollection","features":[]}', 'no polygon'],
    ['{"type":"LineString","coordinates":[[1,2],[3,4],[5,6]]}', 'no polygon'],
    ['{"type":"Polygon","coordinates":[[[1,2],[3,4],[1,2]]]}', 'a polygon without three corners'],
    ['{"type":"Polygon","coordinates":[[[1,2],["x",4],[5,6]]]}', 'a polygon without three corners'],
    [
      '{"type":"Polygon","coordinates":[[[500000,5200000],[500400,5200000],[500400,5200400]]]}',
      'a corner at 500000, 5200000, which is no longitude and latitude',
    ],
  ])('%s is refused: %s', (text, found) => {
    expect(outlinesFromGeoJson(text)).toMatchObject({ ok: false, found });
  });
});
