import { cannot, good, type Outcome } from '../faults/outcome.ts';
import { hoopAreaM2 } from '../units/hoop.ts';

/** Plants in the same measured length of one row or of several adjacent rows, one number for each row. */
export interface RowCount {
  readonly kind: 'rows';
  readonly plants: readonly number[];
  readonly lengthM: number;
  readonly rowWidthM: number;
}

/** Plants inside a hoop laid on the ground. */
export interface HoopCount {
  readonly kind: 'hoop';
  readonly plants: number;
  readonly insideDiameterM: number;
}

/** Plants inside a rectangle laid on the ground. */
export interface QuadratCount {
  readonly kind: 'quadrat';
  readonly plants: number;
  readonly widthM: number;
  readonly lengthM: number;
}

/** Plants found in a photo of one stretch of row, with the bounds for the true number there. */
export interface PhotoCount {
  readonly kind: 'photo';
  readonly plants: number;
  readonly low: number;
  readonly high: number;
  /** Share of photos in which low to high holds the true number. */
  readonly level: number;
  readonly lengthM: number;
  readonly rowWidthM: number;
}

export type StandCount = RowCount | HoopCount | QuadratCount | PhotoCount;

/** Plants counted, all rows together. */
export function plantsCounted(count: StandCount): number {
  return count.kind === 'rows' ? count.plants.reduce((sum, n) => sum + n, 0) : count.plants;
}

/**
 * Ground the count stands for, square metres: for rows, length x row width x rows. Refuses sizes that are missing or
 * not above 0, an empty list of rows and counts that are no whole number from 0 on, by name.
 */
export function countedAreaM2(count: StandCount): Outcome<number> {
  const wrong =
    count.kind === 'rows' ? count.plants.find(isNoCount) : isNoCount(count.plants) ? count.plants : undefined;
  if (wrong !== undefined) {
    return cannot('bad count', `${wrong} plants`, 'whole numbers from 0 on', 'Correct the count.');
  }
  switch (count.kind) {
    case 'rows':
      if (count.plants.length === 0) {
        return cannot('no rows', 'no row', 'a count for one row or more', 'Count a row.');
      }
      if (isSize(count.lengthM) && isSize(count.rowWidthM)) {
        return good(count.plants.length * count.lengthM * count.rowWidthM);
      }
      break;
    case 'hoop':
      if (isSize(count.insideDiameterM)) return good(hoopAreaM2(count.insideDiameterM));
      break;
    case 'quadrat':
      if (isSize(count.widthM) && isSize(count.lengthM)) return good(count.widthM * count.lengthM);
      break;
    case 'photo':
      if (isSize(count.lengthM) && isSize(count.rowWidthM)) return good(count.lengthM * count.rowWidthM);
      break;
  }
  const [name, sizeM] = sizesOf(count).find((size) => !isSize(size[1]))!;
  return cannot('bad size', `a ${name} of ${sizeM} m`, `a ${name} above 0`, `Give the ${name} with its unit.`);
}

function isNoCount(plants: number): boolean {
  return !Number.isInteger(plants) || plants < 0;
}

function isSize(metres: number): boolean {
  return metres > 0 && Number.isFinite(metres);
}

function sizesOf(count: StandCount): ReadonlyArray<readonly [name: string, sizeM: number]> {
  switch (count.kind) {
    case 'rows':
    case 'photo':
      return [
        ['counted length', count.lengthM],
        ['row width', count.rowWidthM],
      ];
    case 'hoop':
      return [['inside diameter of the hoop', count.insideDiameterM]];
    case 'quadrat':
      return [
        ['quadrat width', count.widthM],
        ['quadrat length', count.lengthM],
      ];
  }
}
