import { gapsInRow } from '../stand/gapsInRow.ts';
import { spacingStatistics } from '../stand/spacingStatistics.ts';
import { SQUARE_METRES_PER_ACRE, SQUARE_METRES_PER_HECTARE } from '../units/conversions.ts';
import type { Count, Gap, Population, Spacing } from './countResult.ts';

export interface RowToMeasure {
  /** Where the counted plants stand along the row, metres, any order. */
  readonly positionsM: readonly number[];
  readonly fromM: number;
  readonly toM: number;
  readonly count: Count;
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
