import { cannot, good, type Outcome } from '../faults/outcome.ts';
import type { Interval } from '../statistics/interval.ts';
import { poissonInterval } from '../statistics/poisson.ts';
import { countedAreaM2, plantsCounted, type StandCount } from './standCount.ts';

/** The stand at one spot: what was counted there, and how far that may be off. Says nothing yet of the field. */
export interface SpotStand {
  readonly plants: number;
  readonly areaM2: number;
  readonly perSquareMetre: number;
  /** Counting error: how many plants really stand in the stretch, per square metre. A hand count is taken as exact. */
  readonly counting: Interval;
  /**
   * What the same ground nearby would give: an interval for the density behind this one spot if plants fell at random,
   * by chance alone. Wider than `counting`; narrower than the field's interval, which lives between spots.
   */
  readonly chance: Interval;
  readonly method: string;
  readonly reasons: readonly string[];
}

/**
 * All counts of one spot put together: plants over ground. Several rows, several hoops and several photos simply add
 * up. Counting errors of separate photos add in quadrature on each side.
 *
 * @param level level of the chance interval; the counting interval keeps the photos' own.
 */
export function spotStand(counts: readonly StandCount[], level: number): Outcome<SpotStand> {
  if (counts.length === 0) return cannot('no counts', 'a spot without a count', 'one count or more', 'Count the spot.');
  let areaM2 = 0;
  for (const count of counts) {
    const area = countedAreaM2(count);
    if (!area.ok) return area;
    areaM2 += area.value;
  }
  const plants = counts.reduce((sum, count) => sum + plantsCounted(count), 0);
  const counting = countingError(counts, plants);
  if (!counting.ok) return counting;
  const chance = poissonInterval(plants, level);
  const over = (interval: Interval): Interval => ({
    ...interval,
    low: interval.low / areaM2,
    high: interval.high / areaM2,
  });
  return good({
    plants,
    areaM2,
    perSquareMetre: plants / areaM2,
    counting: over(counting.value),
    chance: over(chance),
    method: `${plants} plants on ${areaM2.toPrecision(3)} m2`,
    reasons: plants === 0 ? ['no plant was found here: the stand may be 0, or the spot an odd one'] : [],
  });
}

function countingError(counts: readonly StandCount[], plants: number): Outcome<Interval> {
  const photos = counts.filter((count) => count.kind === 'photo');
  if (photos.length === 0) {
    return good({ low: plants, high: plants, level: 1, method: 'counted by hand, taken as exact' });
  }
  const bad = photos.find((p) => !(p.low <= p.plants && p.plants <= p.high && p.level > 0 && p.level < 1));
  if (bad !== undefined) {
    return cannot(
      'bad bounds',
      `a photo count of ${bad.plants} with bounds ${bad.low} to ${bad.high} at level ${bad.level}`,
      'bounds around the count and a level between 0 and 1',
      'Count the photo again.',
    );
  }
  const level = Math.min(...photos.map((p) => p.level));
  const down = Math.hypot(...photos.map((p) => p.plants - p.low));
  const up = Math.hypot(...photos.map((p) => p.high - p.plants));
  return good({
    low: Math.max(0, plants - down),
    high: plants + up,
    level,
    method: photos.length === 1 ? 'detection interval of the photo' : 'detection intervals, added in quadrature',
  });
}
