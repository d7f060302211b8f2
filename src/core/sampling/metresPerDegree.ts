import type { Position } from './randomPoints.ts';

/** WGS 84 (NIMA TR8350.2, 2000): half the larger axis, metres, and the first eccentricity squared. */
const SEMI_MAJOR_M = 6_378_137;
const ECCENTRICITY_2 = 0.006_694_379_990_14;
const RADIANS = Math.PI / 180;

/** Length of one degree to the north and to the east at a latitude, metres, by the ellipsoid's radii of curvature. */
export function metresPerDegree(latitudeDeg: number): { readonly north: number; readonly east: number } {
  const sine = Math.sin(latitudeDeg * RADIANS);
  const flat = 1 - ECCENTRICITY_2 * sine * sine;
  return {
    north: (RADIANS * SEMI_MAJOR_M * (1 - ECCENTRICITY_2)) / flat ** 1.5,
    east: (RADIANS * SEMI_MAJOR_M * Math.cos(latitudeDeg * RADIANS)) / Math.sqrt(flat),
  };
}

/** Metres to the east and to the north of an origin: a flat map, good over a field (1 part in 1000 over 5 km). */
export function toFlat([latitude, longitude]: Position, origin: Position): { readonly x: number; readonly y: number } {
  const { north, east } = metresPerDegree((latitude + origin[0]) / 2);
  // The shorter way around, across the 180th meridian too.
  const turned = ((((longitude - origin[1] + 540) % 360) + 360) % 360) - 180;
  return { x: turned * east, y: (latitude - origin[0]) * north };
}
