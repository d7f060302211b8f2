import type { CountResult } from '../count/countResult.ts';
import { measureRow } from '../count/measureRow.ts';
import { countInterval } from '../plants/countInterval.ts';
import { SQUARE_METRES_PER_HECTARE } from '../units/conversions.ts';
import { changePlants, type Marks } from './changePlants.ts';
import { type CorrectedPlant, isVouched, untouched } from './correctedPlant.ts';
import type { Correction } from './correction.ts';
import { groundOf, placed } from './ground.ts';
import { movedReference, type PlacedReading, sameReading } from './movedReference.ts';
import { type Deed, standingChanges } from './standingChanges.ts';

/** A photo's count as it stands after the corrections. The machine's list is in the result it was made from. */
export interface CorrectedResult extends CountResult {
  /** In order along the row. */
  readonly plants: readonly CorrectedPlant[];
  /** Marks that a person took off. */
  readonly removed: readonly CorrectedPlant[];
  /** Readings of the reference that a person placed. */
  readonly placedReadings: readonly PlacedReading[];
  readonly checkedBy: readonly string[];
  /** Who last said that every mark of the stretch was looked at, and when; null where nobody did. */
  readonly checkedWhole: { readonly by: string; readonly at: string } | null;
}

/** Bare row longer than this is a gap where an early result did not say; the default of a count. */
const USUAL_GAP_M = 0.3;

/**
 * Replays corrections on a photo's count: marks, count with its interval, spacing, gaps, population, and the soil plane
 * where a reading was moved. The result given is left alone; without corrections that stand its numbers come back as
 * they were. Marks that a person vouches for carry no doubt of detection. Cheap: runs at every touch.
 *
 * @param nameOf how a person is called, by what `by` of a record holds; marks and method use the names.
 */
export function replay(
  result: CountResult,
  corrections: readonly Correction[],
  nameOf: (by: string) => string = (by) => by,
): CorrectedResult {
  const { standing } = standingChanges(corrections);
  const deeds = standing
    .filter(({ change }) => !HAND.has(change.kind))
    .map((deed): Deed => ({ ...deed, by: nameOf(deed.by) }));
  const ground = groundOf(result);
  const marks: Marks = { here: new Map(result.plants.map((p) => [p.id, untouched(p)])), removed: new Map() };
  for (const deed of deeds) changePlants(marks, deed, ground);

  const placedReadings = readingsPlaced(deeds);
  const moved = movedReference(result, placedReadings);
  const reference = moved?.reference ?? result.reference;
  const place = (plant: CorrectedPlant): CorrectedPlant =>
    moved === null && asSeen(plant) ? plant : placed(plant, reference.photoToGround, result.stretch);
  const plants = [...marks.here.values()].map(place).sort(alongTheRow);
  const removed = [...marks.removed.values()].map(place).sort(alongTheRow);
  const checkedBy = [...new Set(deeds.map(({ by }) => by))].sort();
  const whole = deeds.findLast(({ change }) => change.kind === 'check photo');
  const checkedWhole = whole === undefined ? null : { by: whole.by, at: whole.at };
  const corrected = { ...result, reference, plants, removed, placedReadings, checkedBy, checkedWhole };
  return deeds.length === 0 ? corrected : { ...corrected, ...measured({ ...result, reference }, plants, checkedBy) };
}

const HAND: ReadonlySet<string> = new Set(['set row plants', 'set plants', 'leave out']);

function readingsPlaced(deeds: readonly Deed[]): readonly PlacedReading[] {
  const all = deeds.flatMap(({ change, by }): PlacedReading[] => {
    if (change.kind !== 'move reading') return [];
    const { xPx, yPx, readingM } = change;
    return [{ xPx, yPx, readingM, by }];
  });
  return all
    .filter((reading, i) => !all.slice(i + 1).some((later) => sameReading(later, reading)))
    .sort((a, b) => a.readingM - b.readingM);
}

/** Whether a mark lies where the machine put it. */
function asSeen({ machine, xPx, yPx }: CorrectedPlant): boolean {
  return machine !== null && machine.xPx === xPx && machine.yPx === yPx;
}

function alongTheRow(a: CorrectedPlant, b: CorrectedPlant): number {
  return (a.alongM ?? a.xPx) - (b.alongM ?? b.xPx) || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);
}

type Measures = Pick<CountResult, 'count' | 'spacing' | 'gaps' | 'population'>;

function measured(result: CountResult, plants: readonly CorrectedPlant[], checkedBy: readonly string[]): Measures {
  const { stretch, setting, reference } = result;
  const inside = plants.filter((plant) => plant.inStretch);
  const vouched = inside.filter(isVouched);
  const touched = inside.filter((plant) => plant.checked !== null).length;
  const interval = countInterval(
    inside.filter((plant) => !isVouched(plant)),
    result.count.level,
    vouched.filter((plant) => plant.kind === 'plant').length,
  );
  const share = touched === inside.length ? 'every mark' : `${touched} of ${inside.length} marks`;
  const count = { ...interval, method: `${interval.method}; ${share} checked by ${checkedBy.join(', ')}` };
  if (stretch === null) return { count, spacing: null, gaps: [], population: null };
  const row = measureRow({
    positionsM: inside.flatMap((p) => (p.kind === 'plant' && p.alongM !== null ? [p.alongM] : [])),
    fromM: stretch.fromM,
    toM: stretch.toM,
    count,
    rowWidthM: setting === undefined ? rowWidthBehind(result) : setting.rowWidthM,
    seedSpacingM: setting?.seedSpacingM ?? null,
    gapM: setting?.gapM ?? USUAL_GAP_M,
    lengthErrorShare: (reference.alongErrorMm ?? 0) / 1000 / stretch.lengthM,
  });
  return { count, ...row };
}

/** The row width that an early result used, from its own population; null where it gave none. */
function rowWidthBehind({ population, stretch, count }: CountResult): number | null {
  if (population === null || stretch === null || !(population.perHectare > 0)) return null;
  return count.value / ((population.perHectare / SQUARE_METRES_PER_HECTARE) * stretch.lengthM);
}
