import { evenness } from '../stand/evenness.ts';
import { gapsInRow } from '../stand/gapsInRow.ts';
import { plainShares } from '../stand/plantingShares.ts';
import { rowUnitPattern } from '../stand/rowUnitPattern.ts';
import { spacingPrecision } from '../stand/spacingPrecision.ts';
import { spacingsM } from '../stand/spacingStatistics.ts';
import { countedAreaM2, plantsCounted } from '../stand/standCount.ts';
import { describe } from '../statistics/describe.ts';
import { COSTLY_GAP, costlyGapShare, isCostlyGap } from '../yield/gapPenalty.ts';
import type { EvennessNumbers } from './assessment.ts';
import type { VisitCount } from './countSchema.ts';
import { quantityIn } from './quantity.ts';
import type { SpotCounts } from './spotCounts.ts';

/** A run of row whose plants have known places. */
interface PlacedStretch {
  readonly positionsM: readonly number[];
  readonly fromM: number;
  readonly toM: number;
}

const SIGNIFICANCE = 0.05;

/**
 * Spacing, skips and gaps of the whole visit, from tape readings, photos and gap lists; null when nothing of the sort
 * was noted. Spacings over the costly gap are left out of the CV, because gaps are charged on their own.
 */
export function rowEvenness(
  spots: readonly SpotCounts[],
  seedSpacingM: number | null,
  rowUnits: number | null,
): EvennessNumbers | null {
  const counts = spots.flatMap((s) => s.corrected.filter((c) => c.leftOut === null).map((c) => c.count));
  const stretches = counts.flatMap(placedStretch);
  const listed = counts.flatMap(listedGaps);
  if (stretches.length === 0 && listed.length === 0) return null;

  const all = stretches.flatMap((stretch) => spacingsM(stretch.positionsM));
  const close = describe(all.filter((spacing) => !isCostlyGap(spacing)));
  const shares = seedSpacingM !== null && seedSpacingM > 0 ? plainShares(all, seedSpacingM) : null;
  const found = stretches.flatMap((s) => gapsInRow(s.positionsM, s.fromM, s.toM, COSTLY_GAP.lengthM));
  const gapLengths = [...found.map((gap) => gap.lengthM), ...listed.flatMap((l) => l.gapsM.filter(isCostlyGap))];
  const rowLengthForGapsM =
    stretches.reduce((sum, s) => sum + s.toM - s.fromM, 0) + listed.reduce((sum, l) => sum + l.rowM, 0);
  return {
    spacings: all.length,
    meanSpacingM: describe(all).mean,
    spacingSdM: describe(all).sd,
    spacingCv: close.cv,
    missShare: shares?.ok === true ? shares.value.misses : null,
    multiplesShare: shares?.ok === true ? shares.value.multiples : null,
    precision: seedSpacingM !== null && seedSpacingM > 0 ? spacingPrecision(all, seedSpacingM) : null,
    gapShare: rowLengthForGapsM > 0 ? costlyGapShare(gapLengths, rowLengthForGapsM) : null,
    gapsCounted: gapLengths.length,
    rowLengthForGapsM,
    pattern: patternOf(spots, counts, rowUnits),
  };
}

function placedStretch(count: VisitCount): readonly PlacedStretch[] {
  if (count.kind === 'photo' && count.result.stretch !== null) {
    const { fromM, toM } = count.result.stretch;
    const positionsM = count.result.plants.flatMap((plant) =>
      plant.kind === 'plant' && plant.inStretch && plant.alongM !== null ? [plant.alongM] : [],
    );
    return toM > fromM ? [{ positionsM, fromM, toM }] : [];
  }
  if (count.kind === 'rows' && count.readings !== undefined && count.readings.length > 0) {
    const positionsM = count.readings.flatMap((reading) => quantityIn(reading, 'length') ?? []);
    return [{ positionsM, fromM: Math.min(...positionsM), toM: Math.max(...positionsM) }];
  }
  return [];
}

function listedGaps(count: VisitCount): readonly { readonly gapsM: readonly number[]; readonly rowM: number }[] {
  if (count.kind !== 'rows' || count.gaps === undefined) return [];
  const lengthM = quantityIn(count.length, 'length') ?? 0;
  return [{ gapsM: count.gaps.flatMap((gap) => quantityIn(gap, 'length') ?? []), rowM: lengthM * count.plants.length }];
}

function patternOf(
  spots: readonly SpotCounts[],
  counts: readonly VisitCount[],
  rowUnits: number | null,
): string | null {
  const wide = rowUnits === null ? undefined : counts.find((c) => c.kind === 'rows' && c.plants.length >= 2 * rowUnits);
  if (rowUnits !== null && wide?.kind === 'rows') {
    const units = rowUnitPattern(wide.plants, rowUnits, true, SIGNIFICANCE);
    if (units.ok && units.value.repeats)
      return `row units differ; poor: ${units.value.poorUnits.join(', ') || 'none singled out'}`;
  }
  const ground = spots.flatMap((spot) => {
    const areas = spot.usable.map(countedAreaM2);
    if (areas.length === 0 || areas.some((area) => !area.ok)) return [];
    const areaM2 = areas.reduce((sum, area) => sum + (area.ok ? area.value : 0), 0);
    return [{ plants: spot.usable.reduce((sum, count) => sum + plantsCounted(count), 0), areaM2 }];
  });
  const field = evenness(ground, SIGNIFICANCE);
  if (!field.ok) return null;
  return field.value.even
    ? 'spots differ no more than by chance'
    : `spots differ more than by chance (CV ${Math.round(field.value.cv * 100)} %, chance alone ${Math.round(field.value.cvByChance * 100)} %)`;
}
