import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { metresPerDegree } from '../../../src/core/sampling/metresPerDegree.ts';
import { outlineAreaM2 } from '../../../src/core/sampling/outlineAreaM2.ts';
import type { Position } from '../../../src/core/sampling/randomPoints.ts';
import { wayBetween } from '../../../src/core/sampling/wayBetween.ts';
import { SQUARE_METRES_PER_ACRE } from '../../../src/core/units/conversions.ts';

/**
 * Kilometres in a degree of latitude and of longitude on WGS 84, as tables of geodesy print them to the metre
 * (value from memory; the equator's 110.574 and 111.320 follow from the ellipsoid's axes).
 */
const TABLE = [
  [0, 110.574, 111.32],
  [15, 110.649, 107.55],
  [30, 110.852, 96.486],
  [45, 111.132, 78.847],
  [60, 111.412, 55.8],
  [75, 111.618, 28.902],
] as const;
const AS_PRINTED = 0.0006;

describe('a degree in metres', () => {
  it.each(TABLE)('at %d degrees: %d km to the north, %d km to the east', (latitude, north, east) => {
    const found = metresPerDegree(latitude);
    expect(Math.abs(found.north / 1000 - north)).toBeLessThan(AS_PRINTED);
    expect(Math.abs(found.east / 1000 - east)).toBeLessThan(AS_PRINTED);
  });
});

const near = fc.tuple(
  fc.double({ min: -0.01, max: 0.01, noNaN: true }),
  fc.double({ min: -0.01, max: 0.01, noNaN: true }),
);
const places = fc.tuple(fc.double({ min: -60, max: 60, noNaN: true }), fc.double({ min: -179, max: 179, noNaN: true }));

describe('the way to a stop', () => {
  it.each([
    [0.001, 0, 0, 'N'],
    [0, 0.001, 90, 'E'],
    [-0.001, 0, 180, 'S'],
    [0, -0.001, 270, 'W'],
  ] as const)('%d up and %d over bears %d, %s', (up, over, bearing, point) => {
    const way = wayBetween([45, 10], [45 + up, 10 + over]);
    expect(way.bearingDeg).toBeCloseTo(bearing, 3);
    expect(way.point).toBe(point);
    // A thousandth of the degree in the table above.
    expect(Math.abs(way.distanceM - (up === 0 ? 78.847 : 111.132))).toBeLessThan(0.001);
  });

  it('there and back are as long and bear the other way', () => {
    fc.assert(
      fc.property(places, near, ([latitude, longitude], [up, over]) => {
        const [a, b]: [Position, Position] = [
          [latitude, longitude],
          [latitude + up, longitude + over],
        ];
        const [there, back] = [wayBetween(a, b), wayBetween(b, a)];
        // A part in 100,000 for the curve of the Earth between two latitudes, and a millimetre.
        expect(Math.abs(there.distanceM - back.distanceM)).toBeLessThan(1e-5 * there.distanceM + 1e-3);
        if (there.distanceM < 1) return;
        const turned = (there.bearingDeg - back.bearingDeg + 540) % 360;
        expect(Math.min(turned, 360 - turned)).toBeLessThan(1e-6);
      }),
    );
  });

  it('crosses the 180th meridian by the shorter way, and is nothing from a place to itself', () => {
    expect(wayBetween([0, 179.9999], [0, -179.9999]).distanceM).toBeCloseTo(0.0002 * 111_320, 1);
    expect(wayBetween([0, 179.9999], [0, -179.9999]).point).toBe('E');
    expect(wayBetween([47, -98], [47, -98])).toEqual({ distanceM: 0, bearingDeg: 0, point: 'N' });
  });
});

describe('ground inside an outline', () => {
  // A quarter section is half a mile on a side and holds 160 acres (US Public Land Survey System).
  const HALF_MILE_M = 804.672;
  const quarter = (latitude: number, longitude: number): readonly Position[] => {
    const up = HALF_MILE_M / metresPerDegree(latitude).north;
    const over = HALF_MILE_M / metresPerDegree(latitude).east;
    return [
      [latitude - up / 2, longitude - over / 2],
      [latitude + up / 2, longitude - over / 2],
      [latitude + up / 2, longitude + over / 2],
      [latitude - up / 2, longitude + over / 2],
    ];
  };

  it.each([
    [0, 0],
    [47, -98],
    [-35, 150],
    [60, 25],
  ])('a quarter section at %d, %d holds 160 acres', (latitude, longitude) => {
    // The map is flat to 1 part in 1000 over 5 km; over half a mile much better.
    expect(outlineAreaM2(quarter(latitude, longitude)) / SQUARE_METRES_PER_ACRE).toBeCloseTo(160, 1);
  });

  it('does not change with the direction of the walk or where it began', () => {
    const corners = quarter(47, -98);
    const area = outlineAreaM2(corners);
    expect(outlineAreaM2(corners.toReversed()) / area).toBeCloseTo(1, 6);
    expect(outlineAreaM2([...corners.slice(1), corners[0]!]) / area).toBeCloseTo(1, 6);
  });

  it.each([
    [[]],
    [[[47, -98]]],
    [
      [
        [47, -98],
        [48, -98],
      ],
    ],
  ] as const)('%j holds nothing', (outline) => {
    expect(outlineAreaM2(outline as unknown as readonly Position[])).toBe(0);
  });
});
