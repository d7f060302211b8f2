import { KILOGRAMS_PER_POUND, SQUARE_METRES_PER_ACRE, SQUARE_METRES_PER_HECTARE } from './conversions.ts';

const KG_PER_HA_PER_LB_PER_ACRE = (KILOGRAMS_PER_POUND * SQUARE_METRES_PER_HECTARE) / SQUARE_METRES_PER_ACRE;

export function poundsPerAcreToKilogramsPerHectare(poundsPerAcre: number): number {
  return poundsPerAcre * KG_PER_HA_PER_LB_PER_ACRE;
}

export function kilogramsPerHectareToPoundsPerAcre(kilogramsPerHectare: number): number {
  return kilogramsPerHectare / KG_PER_HA_PER_LB_PER_ACRE;
}
