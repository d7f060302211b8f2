import { wayBetween } from '../sampling/wayBetween.ts';
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

function distanceBetween(a: Place, b: Place): number | null {
  if (a.latitude === null || a.longitude === null || b.latitude === null || b.longitude === null) return null;
  return wayBetween([a.latitude, a.longitude], [b.latitude, b.longitude]).distanceM;
}
