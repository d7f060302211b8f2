import type { IndexEntry } from './indexThing.ts';

/**
 * Two phones at one place seldom differ by more: each fix is good to about 5 m under open sky, and people return to
 * within a few rows. Common practice, no source.
 */
export const SAME_SPOT_M = 15;

type Place = Pick<IndexEntry, 'spot' | 'latitude' | 'longitude'>;

/** Why two spots of different visits are taken for the same place, with their distance where both have a position. */
export interface SpotMatch {
  readonly by: 'position' | 'name';
  readonly distanceM: number | null;
}

/**
 * Whether two spots of one field are the same place on two dates: by position where both have one, else by carrying the
 * same name, which is weaker and said so. Null: they are not.
 */
export function sameSpot(a: Place, b: Place): SpotMatch | null {
  const distanceM = distanceBetween(a, b);
  if (distanceM !== null) return distanceM <= SAME_SPOT_M ? { by: 'position', distanceM } : null;
  return a.spot !== null && a.spot === b.spot ? { by: 'name', distanceM: null } : null;
}

/** Metres between two positions on a sphere of the Earth's mean radius; exact to 0.5 % at any distance. */
function distanceBetween(a: Place, b: Place): number | null {
  if (a.latitude === null || a.longitude === null || b.latitude === null || b.longitude === null) return null;
  const radians = Math.PI / 180;
  const middle = ((a.latitude + b.latitude) / 2) * radians;
  const north = (b.latitude - a.latitude) * radians;
  const turned = ((((b.longitude - a.longitude + 540) % 360) + 360) % 360) - 180;
  const east = turned * radians * Math.cos(middle);
  return 6_371_008.8 * Math.hypot(north, east);
}
