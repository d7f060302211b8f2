import { cannot, good, type Outcome } from '../faults/outcome.ts';
import type { Random } from '../statistics/seededRandom.ts';

/** Latitude and longitude, degrees, WGS 84. */
export type Position = readonly [latitude: number, longitude: number];

/** A field so thin that this many draws find no ground is not a field. */
const MOST_DRAWS_PER_SPOT = 100_000;

/**
 * GPS points inside a field's outline, each square metre as likely as any other, from a seed. Draws in the box around
 * the outline and keeps what lies inside (even-odd rule, so that rings within count as holes). Over a field, degrees are
 * a flat map: its scale across changes by less than 1 part in 1000 over 5 km at 50 degrees.
 *
 * Refuses outlines of fewer than three corners, without ground, or across the 180th meridian.
 */
export function randomPoints(
  outline: readonly Position[],
  spots: number,
  random: Random,
): Outcome<readonly Position[]> {
  if (!(spots >= 1 && Number.isInteger(spots))) {
    return cannot('spots', `${spots} spots`, 'a whole number from 1 on', 'Say how many spots.');
  }
  const refuse = (found: string) => cannot('outline', found, 'an outline that holds ground', 'Draw the outline again.');
  if (outline.length < 3) return refuse(`an outline of ${outline.length} corners`);
  if (outline.flat().some((degrees) => !Number.isFinite(degrees))) return refuse('a corner without a position');
  const latitudes = outline.map(([latitude]) => latitude);
  const longitudes = outline.map(([, longitude]) => longitude);
  const [south, north] = [Math.min(...latitudes), Math.max(...latitudes)];
  const [west, east] = [Math.min(...longitudes), Math.max(...longitudes)];
  if (!(north > south && east > west)) return refuse('an outline without ground');
  if (east - west > 180) return refuse('an outline across the 180th meridian');
  const points: Position[] = [];
  for (let draws = 0; points.length < spots; draws++) {
    if (draws >= MOST_DRAWS_PER_SPOT * spots) return refuse('an outline without ground');
    const point: Position = [south + (north - south) * random(), west + (east - west) * random()];
    if (isInside(point, outline)) points.push(point);
  }
  return good(points);
}

/** Even-odd rule: a ray to the east crosses the outline an odd number of times. */
function isInside([y, x]: Position, outline: readonly Position[]): boolean {
  let inside = false;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const [yi, xi] = outline[i]!;
    const [yj, xj] = outline[j]!;
    if (yi > y !== yj > y && x < xi + ((y - yi) / (yj - yi)) * (xj - xi)) inside = !inside;
  }
  return inside;
}
