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
  const counts: VisitCount[] = [];
  const stretches: PlacedStretch[] = [];
  const listed: ListedGaps[] = [];
  for (const spot of spots) {
    for (const { count, leftOut } of spot.corrected) {
      if (leftOut !== null) continue;
      counts.push(count);
      const stretch = placedStretch(count);
      if (stretch !== null) stretches.push(stretch);
      const gaps = listedGaps(count);
      if (gaps !== null) listed.push(gaps);
    }
  }
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

function placedStretch(count: VisitCount): PlacedStretch | null {
  if (count.kind === 'photo' && count.result.stretch !== null) {
    const { fromM, toM } = count.result.stretch;
    const positionsM = count.result.plants.flatMap((plant) =>
      plant.kind === 'plant' && plant.inStretch && plant.alongM !== null ? [plant.alongM] : [],
    );
    return toM > fromM ? { positionsM, fromM, toM } : null;
  }
  if (count.kind === 'rows' && count.readings !== undefined && count.readings.length > 0) {
    const positionsM = count.readings.flatMap((reading) => quantityIn(reading, 'length') ?? []);
    return { positionsM, fromM: Math.min(...positionsM), toM: Math.max(...positionsM) };
  }
  return null;
}

interface ListedGaps {
  readonly gapsM: readonly number[];
  readonly rowM: number;
}

function listedGaps(count: VisitCount): ListedGaps | null {
  if (count.kind !== 'rows' || count.gaps === undefined) return null;
  const lengthM = quantityIn(count.length, 'length') ?? 0;
  return { gapsM: count.gaps.flatMap((gap) => quantityIn(gap, 'length') ?? []), rowM: lengthM * count.plants.length };
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
  const ground: { readonly plants: number; readonly areaM2: number }[] = [];
  for (const { usable } of spots) {
    let [plants, areaM2] = [0, 0];
    for (const count of usable) {
      const area = countedAreaM2(count);
      areaM2 += area.ok ? area.value : Number.NaN;
      plants += plantsCounted(count);
    }
    if (areaM2 > 0) ground.push({ plants, areaM2 });
  }
  const field = evenness(ground, SIGNIFICANCE);
  if (!field.ok) return null;
  return field.value.even
    ? 'spots differ no more than by chance'
    : `spots differ more than by chance (CV ${Math.round(field.value.cv * 100)} %, chance alone ${Math.round(field.value.cvByChance * 100)} %)`;
}
