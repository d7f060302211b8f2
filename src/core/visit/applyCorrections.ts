import type { PhotoResult, VisitChange, VisitCount } from './countSchema.ts';
import { quantityIn } from './quantity.ts';
import type { VisitDocument } from './visitSchema.ts';

/** A count as it stands after the corrections, and whether a person left it out. */
export interface CorrectedCount {
  readonly count: VisitCount;
  readonly leftOut: string | null;
  readonly corrections: number;
}

type Correction = NonNullable<VisitDocument['corrections']>[number];

/**
 * Replays the corrections of one count on top of what was counted, oldest first (same moment: by id). The count given
 * is left alone. A correction that does not fit its count changes nothing.
 */
export function applyCorrections(count: VisitCount, corrections: readonly Correction[]): CorrectedCount {
  const own = corrections
    .filter((correction) => correction.countId === count.id)
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at) || (a.id < b.id ? -1 : 1));
  let leftOut: string | null = null;
  let now = count;
  for (const { change, why } of own) {
    if (change.kind === 'leave out') leftOut = why ?? 'no reason given';
    else now = changed(now, change);
  }
  return { count: now, leftOut, corrections: own.length };
}

function changed(count: VisitCount, change: VisitChange): VisitCount {
  if (count.kind === 'photo') return { ...count, result: changedPhoto(count.result, change) };
  if (change.kind === 'set plants' && count.kind !== 'rows') return { ...count, plants: change.plants };
  if (count.kind !== 'rows') return count;
  if (change.kind === 'set plants' && count.plants.length === 1) return { ...count, plants: [change.plants] };
  if (change.kind === 'set row plants' && change.row < count.plants.length) {
    return { ...count, plants: count.plants.map((plants, row) => (row === change.row ? change.plants : plants)) };
  }
  return count;
}

function changedPhoto(result: PhotoResult, change: VisitChange): PhotoResult {
  const plants = changedPlants(result, change);
  const value = change.kind === 'set plants' ? change.plants : null;
  if (plants === null && value === null) return result;
  const list = plants ?? result.plants;
  const before = result.plants.filter(countsHere).length;
  const moved = value === null ? list.filter(countsHere).length - before : value - result.count.value;
  const shift = (n: number) => Math.max(0, n + moved);
  return {
    ...result,
    plants: list,
    count: {
      ...result.count,
      value: shift(result.count.value),
      low: shift(result.count.low),
      high: shift(result.count.high),
    },
  };
}

function changedPlants(result: PhotoResult, change: VisitChange): PhotoResult['plants'] | null {
  switch (change.kind) {
    case 'remove plant':
      return result.plants.filter((plant) => plant.id !== change.plantId);
    case 'name plant':
      return result.plants.map((plant) => (plant.id === change.plantId ? { ...plant, kind: change.as } : plant));
    case 'add plant': {
      const alongM = quantityIn(change.along, 'length');
      const stretch = result.stretch;
      const inStretch = stretch !== null && alongM !== null && alongM >= stretch.fromM && alongM <= stretch.toM;
      return [...result.plants, { id: change.plantId, alongM, kind: 'plant', inStretch, confidence: 1 }];
    }
    default:
      return null;
  }
}

function countsHere(plant: PhotoResult['plants'][number]): boolean {
  return plant.kind === 'plant' && plant.inStretch;
}
