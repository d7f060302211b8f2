import type { Outcome } from '../faults/outcome.ts';
import { good, inOneLine } from '../faults/outcome.ts';
import type { FieldSpot, FieldZone } from '../sampling/fieldSpot.ts';
import type { FieldStand } from '../sampling/fieldStand.ts';
import { fieldStand } from '../sampling/fieldStand.ts';
import { STOPPING, stoppingRule } from '../sampling/stoppingRule.ts';
import { tIntervalFrom } from '../sampling/tInterval.ts';
import type { ZoneStand } from '../sampling/zoneMean.ts';
import { spotStand } from '../stand/spotStand.ts';
import type { StandCount } from '../stand/standCount.ts';
import { countedAreaM2, plantsCounted } from '../stand/standCount.ts';
import type { SpotNumbers, StandNumbers, ZoneNumbers } from './assessment.ts';
import { quantityIn } from './quantity.ts';
import type { SpotCounts } from './spotCounts.ts';
import type { VisitDocument } from './visitSchema.ts';

export interface FieldNumbers {
  /** What the sampling engine made of the spots; null where none could be used. */
  readonly sampled: FieldStand | null;
  readonly spots: readonly SpotNumbers[];
  readonly stand: StandNumbers | null;
  readonly zones: readonly Pick<ZoneNumbers, 'id' | 'name' | 'areaM2' | 'stand'>[];
  readonly moreSpots: number;
  readonly stopping: readonly string[];
  readonly warnings: readonly string[];
}

export const LEVEL = 0.9;

/**
 * From the counts of a visit to the stand of the field and its zones, with the stopping rule's bounds against a floor
 * (plants per square metre). Where zones cannot be used the whole field is taken as one, and a warning says why.
 */
export function fieldNumbers(visit: VisitDocument, counted: readonly SpotCounts[], floorPerM2: number): FieldNumbers {
  const zoneNames = new Map((visit.zones ?? []).map((zone) => [zone.id, zone.name]));
  const judged = counted.map((spot) => ({ spot, stand: spotTotals(spot.usable) }));
  const sampled: FieldSpot[] = [];
  for (const { spot, stand } of judged) {
    if (!stand.ok) continue;
    const { plants, areaM2 } = stand.value;
    const { id, zoneId } = spot.spot;
    sampled.push(zoneId === undefined ? { id, plants, areaM2 } : { id, plants, areaM2, zoneId });
  }
  const zones: readonly FieldZone[] = (visit.zones ?? []).map((zone) => ({
    id: zone.id,
    areaM2: quantityIn(zone.area, 'area') ?? 0,
  }));
  const zoned = zones.length > 0 && sampled.length > 0 ? fieldStand(sampled, LEVEL, zones) : null;
  const whole = zoned?.ok === true ? zoned : fieldStand(sampled, LEVEL);
  const field = whole.ok ? whole.value : null;
  const stopping = field === null ? null : stoppingRule(field, floorPerM2);
  const odd = new Set(field?.outliers.map((spot) => spot.id));
  return {
    sampled: field,
    spots: judged.map(({ spot, stand }) => ({
      id: spot.spot.id,
      zone: zoneNames.get(spot.spot.zoneId ?? '') ?? null,
      perM2: stand.ok ? stand.value.plants / stand.value.areaM2 : null,
      low: stand.ok ? stand.value.lowPerM2 : null,
      high: stand.ok ? stand.value.highPerM2 : null,
      plants: stand.ok ? stand.value.plants : 0,
      areaM2: stand.ok ? stand.value.areaM2 : 0,
      why: spot.problems.length > 0 ? spot.problems.join('; ') : stand.ok ? null : stand.found,
      outlier: odd.has(spot.spot.id),
    })),
    stand:
      field === null
        ? null
        : {
            perM2: field.value,
            low: field.interval?.low ?? null,
            high: field.interval?.high ?? null,
            level: LEVEL,
            lowerBound: field.n < STOPPING.leastSpots ? null : (stopping?.lowerBound ?? null),
            upperBound: field.n < STOPPING.leastSpots ? null : (stopping?.upperBound ?? null),
            spots: field.n,
            method: `${field.method}${field.interval === null ? '' : `; ${field.interval.method}`}`,
          },
    zones: zones.map((zone) => ({
      ...zone,
      name: zoneNames.get(zone.id) ?? zone.id,
      stand: zoneStand(
        field,
        field?.zones.find((stand) => stand.id === zone.id),
        sampled,
      ),
    })),
    moreSpots: stopping?.moreSpots ?? STOPPING.leastSpots,
    stopping: stopping?.reasons ?? [],
    warnings: [
      ...(zoned !== null && !zoned.ok ? [`zones could not be used: ${inOneLine(zoned)}`] : []),
      ...(field?.reasons ?? []),
    ],
  };
}

interface SpotTotals {
  readonly plants: number;
  readonly areaM2: number;
  readonly lowPerM2: number;
  readonly highPerM2: number;
}

/** Plants and ground of one spot with its counting error; hand counts are exact, so only photos cost an interval. */
function spotTotals(counts: readonly StandCount[]): Outcome<SpotTotals> {
  if (counts.length === 0 || counts.some((count) => count.kind === 'photo')) {
    const stand = spotStand(counts, LEVEL);
    if (!stand.ok) return stand;
    const { plants, areaM2, counting } = stand.value;
    return good({ plants, areaM2, lowPerM2: counting.low, highPerM2: counting.high });
  }
  let areaM2 = 0;
  for (const count of counts) {
    const area = countedAreaM2(count);
    if (!area.ok) return area;
    areaM2 += area.value;
  }
  const plants = counts.reduce((sum, count) => sum + plantsCounted(count), 0);
  return good({ plants, areaM2, lowPerM2: plants / areaM2, highPerM2: plants / areaM2 });
}

/** A zone on its own spots, its spread pooled with the other zones; no interval from a single spot of its own. */
function zoneStand(
  field: FieldStand | null,
  zone: ZoneStand | undefined,
  spots: readonly FieldSpot[],
): StandNumbers | null {
  if (field === null || zone === undefined) return null;
  const ground = spots.filter((spot) => spot.zoneId === zone.id).reduce((sum, spot) => sum + spot.areaM2, 0);
  const byChance = Math.sqrt(Math.max(zone.perSquareMetre, 1 / ground) / ground);
  const made = { perM2: zone.perSquareMetre, level: LEVEL, spots: zone.n };
  if (zone.standardError === null || field.degreesOfFreedom === null || zone.n < 2) {
    const none = { low: null, high: null, lowerBound: null, upperBound: null };
    return { ...made, ...none, method: 'mean of the spots of the zone, too few for an interval' };
  }
  const error = Math.max(zone.standardError, byChance);
  const interval = tIntervalFrom(zone.perSquareMetre, error, field.degreesOfFreedom, LEVEL);
  const low = Math.max(0, interval.low);
  return {
    ...made,
    low,
    high: interval.high,
    lowerBound: low,
    upperBound: interval.high,
    method: `mean of the spots of the zone; ${interval.method}, spread pooled over the zones`,
  };
}
