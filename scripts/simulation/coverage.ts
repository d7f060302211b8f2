import type { FieldSpot, FieldZone } from '../../src/core/sampling/fieldSpot.ts';
import { fieldStand } from '../../src/core/sampling/fieldStand.ts';
import type { Random } from '../../src/core/statistics/seededRandom.ts';
import { SQUARE_METRES_PER_ACRE } from '../../src/core/units/conversions.ts';
import { countSpot, type FieldKind, type SimulatedField, simulateField } from './simulatedField.ts';

export const SPOT_AREA_M2 = SQUARE_METRES_PER_ACRE / 1000;

export interface CoverageCell {
  readonly spots: number;
  readonly visits: number;
  /** Share of visits whose interval held the field's mean. */
  readonly covered: number;
  /** Share of visits in which the tool said that the interval holds unless the field is patchy. */
  readonly warned: number;
  /** Mean half width over the mean. */
  readonly halfWidth: number;
}

interface Tally {
  visits: number;
  covered: number;
  warned: number;
  halfWidth: number;
}

/**
 * Simulates fields and visits, and counts how often the field's interval holds the field's own mean. One visit is looked
 * at after 3, 4 ... 10 spots. Mean stand 35 to 110 plants on 1/1000 ac.
 *
 * @param zoned the patch is known and marked: its area and what lies in it (spots shared out by area, one at least)
 */
export function coverage(
  kind: FieldKind,
  zoned: boolean,
  fields: number,
  visitsEach: number,
  level: number,
  random: Random,
): readonly CoverageCell[] {
  const tallies = new Map<number, Tally>();
  for (let f = 0; f < fields; f++) {
    const field = simulateField(kind, 35 + 75 * random(), random);
    const truth = field.mean / SPOT_AREA_M2;
    for (let visit = 0; visit < visitsEach; visit++) {
      const plain = zoned ? [] : spotsOf(field, 10, random);
      for (let n = 3; n <= 10; n++) {
        const { spots, zones } = zoned ? zonedSpots(field, n, random) : { spots: plain.slice(0, n), zones: [] };
        const stand = fieldStand(spots, level, zones);
        if (!stand.ok || stand.value.interval === null) throw new Error(`no interval for ${n} spots`);
        const { interval, value, holds } = stand.value;
        const tally = tallies.get(n) ?? { visits: 0, covered: 0, warned: 0, halfWidth: 0 };
        tallies.set(n, tally);
        tally.visits++;
        if (interval.low <= truth && truth <= interval.high) tally.covered++;
        if (holds === 'unless patchy') tally.warned++;
        tally.halfWidth += (interval.high - interval.low) / 2 / value;
      }
    }
  }
  return [...tallies].map(([spots, t]) => ({
    spots,
    visits: t.visits,
    covered: t.covered / t.visits,
    warned: t.warned / t.visits,
    halfWidth: t.halfWidth / t.visits,
  }));
}

function spotsOf(field: SimulatedField, n: number, random: Random): FieldSpot[] {
  return Array.from({ length: n }, (_, i) => ({
    id: `${i + 1}`,
    plants: countSpot(field, random),
    areaM2: SPOT_AREA_M2,
  }));
}

function zonedSpots(
  field: SimulatedField,
  n: number,
  random: Random,
): { readonly spots: readonly FieldSpot[]; readonly zones: readonly FieldZone[] } {
  const share = field.inPatch.filter(Boolean).length / field.cells.length;
  if (share === 0) return { spots: spotsOf(field, n, random), zones: [] };
  const inPatch = Math.min(n - 1, Math.max(1, Math.round(share * n)));
  const spots = Array.from({ length: n }, (_, i) => {
    const poor = i < inPatch;
    const plants = countSpot(field, random, (cell) => field.inPatch[cell] === poor);
    return { id: `${i + 1}`, plants, areaM2: SPOT_AREA_M2, zoneId: poor ? 'patch' : 'rest' };
  });
  return {
    spots,
    zones: [
      { id: 'patch', areaM2: share },
      { id: 'rest', areaM2: 1 - share },
    ],
  };
}
