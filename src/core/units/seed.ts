import { KILOGRAMS_PER_POUND } from './conversions.ts';

function above0(value: number, what: string): number {
  if (!(value > 0)) throw new RangeError(`${what} is above 0, got ${value}`);
  return value;
}

/** Seeds per kilogram from a counted and weighed sample. */
export function seedsPerKilogram(seeds: number, sampleKg: number): number {
  return seeds / above0(sampleKg, 'the weight of the sample');
}

export function seedsPerPound(perKilogram: number): number {
  return perKilogram * KILOGRAMS_PER_POUND;
}

export function seedsPerKilogramFromPound(perPound: number): number {
  return perPound / KILOGRAMS_PER_POUND;
}

/** Weight of a thousand seeds, grams. */
export function thousandSeedGrams(perKilogram: number): number {
  return 1_000_000 / above0(perKilogram, 'seeds per kilogram');
}

/** Seed to buy and sow, kilograms per square metre, from seeds per square metre. */
export function seedMassPerSquareMetre(seedsPerSquareMetre: number, perKilogram: number): number {
  return seedsPerSquareMetre / above0(perKilogram, 'seeds per kilogram');
}

/** Seeds per square metre in a weight of seed per square metre. */
export function seedsFromMass(kilogramsPerSquareMetre: number, perKilogram: number): number {
  return kilogramsPerSquareMetre * above0(perKilogram, 'seeds per kilogram');
}

/**
 * Seeds to drop for a target stand: target / (germination x emergence), both shares of 1. "Overseed by 10 %" (x 1.10)
 * is a different rule and gives fewer seeds than / 0.90.
 */
export function seedsForStand(targetPerSquareMetre: number, germination: number, emergence: number): number {
  for (const share of [germination, emergence]) {
    if (!(share > 0 && share <= 1)) throw new RangeError(`a share lies above 0 and up to 1, got ${share}`);
  }
  return targetPerSquareMetre / (germination * emergence);
}
