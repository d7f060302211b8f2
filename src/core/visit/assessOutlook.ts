import { joinDigChecks } from '../outlook/digCheck.ts';
import type { SeedSize } from '../outlook/emergedShare.ts';
import type { EmergenceOutlook } from '../outlook/emergenceOutlook.ts';
import { emergenceOutlook } from '../outlook/emergenceOutlook.ts';
import { quantityIn } from './quantity.ts';
import type { VisitDocument } from './visitSchema.ts';

/** What is still to come in a visited field; null when nothing was counted. */
export function assessOutlook(
  visit: VisitDocument,
  standPerM2: number | null,
  seed: SeedSize,
): EmergenceOutlook | null {
  if (standPerM2 === null) return null;
  return emergenceOutlook({
    plantedOn: visit.planting.plantedOn,
    visitOn: visit.visitedOn,
    seed,
    temperatures: (visit.weather?.days ?? []).map((day) => ({
      day: day.on,
      minC: quantityIn(day.minimum, 'temperature') ?? 0,
      maxC: quantityIn(day.maximum, 'temperature') ?? 0,
      medium: day.medium,
    })),
    seedDropPerM2: quantityIn(visit.planting.seedDrop, 'density'),
    standPerM2,
    earlier: (visit.earlierCounts ?? []).map((count) => ({
      day: count.on,
      perM2: quantityIn(count.population, 'density') ?? 0,
    })),
    dig: joinDigChecks(visit.digChecks ?? []),
    crust: visit.weather?.crust ?? null,
    rainExpected: visit.weather?.rainExpected ?? null,
  });
}
