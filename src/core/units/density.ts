import { SQUARE_METRES_PER_ACRE, SQUARE_METRES_PER_HECTARE, SQUARE_METRES_PER_SQUARE_FOOT } from './conversions.ts';

/** Units in which plants or seeds per area are written. */
export type DensityUnit = 'perAcre' | 'perHectare' | 'perSquareFoot' | 'perSquareMetre';

const SQUARE_METRES: Readonly<Record<DensityUnit, number>> = {
  perAcre: SQUARE_METRES_PER_ACRE,
  perHectare: SQUARE_METRES_PER_HECTARE,
  perSquareFoot: SQUARE_METRES_PER_SQUARE_FOOT,
  perSquareMetre: 1,
};

/** Plants (or seeds, or kilograms) in any area unit to the same per square metre: `toPerSquareMetre(90_000, 'perAcre')`. */
export function toPerSquareMetre(value: number, unit: DensityUnit): number {
  return value / SQUARE_METRES[unit];
}

/** Plants (or seeds, or kilograms) per square metre to the same in another area unit. */
export function fromPerSquareMetre(perSquareMetre: number, unit: DensityUnit): number {
  return perSquareMetre * SQUARE_METRES[unit];
}
