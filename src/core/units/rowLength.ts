import { SQUARE_METRES_PER_ACRE } from './conversions.ts';

/**
 * Length of one row that takes up an area, metres: area / row width. With `rows` adjacent rows counted, each needs the
 * length divided by their number.
 */
export function rowLengthForAreaM(areaM2: number, rowWidthM: number): number {
  if (!(rowWidthM > 0)) throw new RangeError(`a row width is above 0 m, got ${rowWidthM}`);
  return areaM2 / rowWidthM;
}

/** Length of one row that stands for a thousandth of an acre, metres: 5.311 m (17 ft 5 in) for rows 30 in apart. */
export function thousandthAcreRowM(rowWidthM: number): number {
  return rowLengthForAreaM(SQUARE_METRES_PER_ACRE / 1000, rowWidthM);
}

/** Plants per metre of row at a population, from plants per square metre and the row width in metres. */
export function plantsPerMetreOfRow(perSquareMetre: number, rowWidthM: number): number {
  return perSquareMetre * rowWidthM;
}

/** Plants per square metre from plants per metre of row and the row width in metres. */
export function densityFromPlantsPerMetre(plantsPerMetre: number, rowWidthM: number): number {
  if (!(rowWidthM > 0)) throw new RangeError(`a row width is above 0 m, got ${rowWidthM}`);
  return plantsPerMetre / rowWidthM;
}

/** Mean in-row spacing at a population, metres: 1 / (plants per square metre x row width). */
export function meanSpacingAtM(perSquareMetre: number, rowWidthM: number): number {
  const perMetre = plantsPerMetreOfRow(perSquareMetre, rowWidthM);
  if (!(perMetre > 0)) throw new RangeError(`plants per metre of row is above 0, got ${perMetre}`);
  return 1 / perMetre;
}
