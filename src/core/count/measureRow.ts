import { norm } from '../geometry/norm.ts';
import type { CountInterval } from '../plants/countInterval.ts';
import { gapsInRow } from '../stand/gapsInRow.ts';
import { plainShares, seedPositionShares } from '../stand/plantingShares.ts';
import { spacingPrecision } from '../stand/spacingPrecision.ts';
import { spacingStatistics, spacingsM } from '../stand/spacingStatistics.ts';
import { SQUARE_METRES_PER_ACRE, SQUARE_METRES_PER_HECTARE } from '../units/conversions.ts';
import type { Gap, Population, Spacing } from './countResult.ts';

export interface RowToMeasure {
  /** Where the counted plants stand along the row, metres, any order. */
  readonly positionsM: readonly number[];
  readonly fromM: number;
  readonly toM: number;
  readonly count: CountInterval;
  readonly rowWidthM: number | null;
  readonly seedSpacingM: number | null;
  readonly gapM: number;
  /** Expected error of the stretch's length, as a share of it (1 sd). */
  readonly lengthErrorShare: number;
}

export interface RowMeasures {
  readonly spacing: Spacing;
  readonly gaps: readonly Gap[];
  readonly population: Population | null;
}

/**
 * Everything that follows from where the plants of one stretch stand: spacing, gaps, population. Cheap, so that it is
 * recomputed after each correction. Used for photos and hand-placed plants alike.
 */
export function measureRow(row: RowToMeasure): RowMeasures {
  const sorted = [...row.positionsM].sort((a, b) => a - b);
  return {
    spacing: spacingOf(sorted, row.seedSpacingM),
    gaps: gapsInRow(sorted, row.fromM, row.toM, row.gapM),
    population: populationOf(row),
  };
}

function spacingOf(sortedM: readonly number[], seedSpacingM: number | null): Spacing {
  const basic = spacingStatistics(sortedM);
  const none = { multiplesShare: null, missShare: null, feedShare: null, precision: null, seedPositions: null };
  if (seedSpacingM === null) return { ...basic, ...none };
  const spacings = spacingsM(sortedM);
  const plain = plainShares(spacings, seedSpacingM);
  const positions = seedPositionShares(spacings, seedSpacingM);
  return {
    ...basic,
    multiplesShare: plain.ok ? plain.value.multiples : null,
    missShare: plain.ok ? plain.value.misses : null,
    feedShare: plain.ok ? plain.value.feed : null,
    precision: spacingPrecision(spacings, seedSpacingM),
    seedPositions: positions.ok
      ? {
          multiplesShare: positions.value.multiples,
          missShare: positions.value.misses,
          feedShare: positions.value.feed,
        }
      : null,
  };
}

const Z_90 = 1.6448536269514722;

function populationOf({ count, fromM, toM, rowWidthM, lengthErrorShare }: RowToMeasure): Population | null {
  const areaM2 = (toM - fromM) * (rowWidthM ?? 0);
  if (!(areaM2 > 0)) return null;
  const perM2 = (plants: number) => plants / areaM2;
  const value = perM2(count.value);
  // The count's own interval and the error of the measured length are independent: shares add in squares.
  const length = Z_90 * lengthErrorShare * value;
  const low = Math.max(0, value - norm(value - perM2(count.low), length));
  const high = value + norm(perM2(count.high) - value, length);
  return {
    perAcre: value * SQUARE_METRES_PER_ACRE,
    perHectare: value * SQUARE_METRES_PER_HECTARE,
    lowPerAcre: low * SQUARE_METRES_PER_ACRE,
    highPerAcre: high * SQUARE_METRES_PER_ACRE,
    method: `this stretch alone (${count.method}; length good to ${(lengthErrorShare * 100).toFixed(1)} %), not the field`,
  };
}
