import { cannot, good, type Outcome } from '../faults/outcome.ts';
import { describe } from '../statistics/describe.ts';
import { fUpper } from '../statistics/fDistribution.ts';
import { studentTQuantile } from '../statistics/studentT.ts';

export interface RowUnitPattern {
  /** Mean plants per row for each row unit, unit 1 first. */
  readonly meanByUnit: readonly number[];
  /** F of the differences between units against the differences within them, and its chance if units were alike. */
  readonly f: number;
  readonly p: number;
  readonly repeats: boolean;
  /** Row units (from 1) below the mean of all by more than chance allows; empty unless the pattern repeats. */
  readonly poorUnits: readonly number[];
  readonly n: number;
  readonly method: string;
}

/**
 * Does the same row unit plant thin again and again? Takes plants counted in the same length of consecutive rows over
 * two or more planter widths, folds them by row unit and tests the units against each other: one-way analysis of
 * variance on square roots of the counts, which have near equal variance (Bartlett 1936, J. R. Stat. Soc. Suppl. 3:68).
 * A poor unit lies below the mean of all by a one-sided t at the significance shared out among the units (Bonferroni).
 *
 * @param rowUnits rows planted in one pass
 * @param turned true where the planter turned at the headland, so that neighbouring passes mirror each other (the
 *   usual way); false where all passes ran the same way.
 */
export function rowUnitPattern(
  plantsByRow: readonly number[],
  rowUnits: number,
  turned: boolean,
  significance: number,
): Outcome<RowUnitPattern> {
  if (!(Number.isInteger(rowUnits) && rowUnits >= 2)) {
    return cannot('row units', `${rowUnits} row units`, 'a whole number from 2 on', 'Give the planter its row units.');
  }
  if (plantsByRow.length < 2 * rowUnits) {
    return cannot(
      'too few rows',
      `${plantsByRow.length} rows`,
      `${2 * rowUnits} rows or more, two planter widths of ${rowUnits} rows`,
      'Count the same length in more neighbouring rows.',
    );
  }
  const byUnit = Array.from({ length: rowUnits }, (): number[] => []);
  for (const [row, plants] of plantsByRow.entries()) {
    const pass = Math.floor(row / rowUnits);
    const place = row % rowUnits;
    byUnit[turned && pass % 2 === 1 ? rowUnits - 1 - place : place]!.push(plants);
  }
  const roots = byUnit.map((counts) => describe(counts.map(Math.sqrt)));
  const all = describe(plantsByRow.map(Math.sqrt));
  const within = roots.reduce((sum, unit) => sum + (unit.variance ?? 0) * (unit.n - 1), 0);
  const between = roots.reduce((sum, unit) => sum + unit.n * (unit.mean! - all.mean!) ** 2, 0);
  const dfBetween = rowUnits - 1;
  const dfWithin = plantsByRow.length - rowUnits;
  const f = within > 0 ? between / dfBetween / (within / dfWithin) : between > 0 ? Number.POSITIVE_INFINITY : 0;
  const p = Number.isFinite(f) ? fUpper(f, dfBetween, dfWithin) : 0;
  const repeats = p < significance;
  const t = studentTQuantile(1 - significance / rowUnits, dfWithin);
  const error = Math.sqrt(within / dfWithin);
  const poor = roots.flatMap((unit, i) =>
    unit.mean! < all.mean! - t * error * Math.sqrt(1 / unit.n - 1 / all.n) ? [i + 1] : [],
  );
  return good({
    meanByUnit: byUnit.map((counts) => describe(counts).mean!),
    f,
    p,
    repeats,
    poorUnits: repeats ? poor : [],
    n: plantsByRow.length,
    method: `rows folded by ${rowUnits} row units, passes ${turned ? 'mirrored' : 'all the same way'}, F test on roots`,
  });
}
