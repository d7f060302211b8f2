import type { Source } from '../sources/source.ts';
import { seedMassPerSquareMetre, seedsForStand, seedsPerKilogramFromPound } from '../units/seed.ts';
import { PLANTS_PER_SEED } from './establishment.ts';
import { marketClassOf } from './marketClass.ts';
import { SEED_COUNTS } from './seedCounts.ts';

/** Seed that a stand takes, good seed: a number for an area, and its weight where the class has a table of seeds. */
export interface SeedNeeded {
  readonly perM2: { readonly low: number; readonly high: number };
  readonly kgPerM2: { readonly low: number; readonly high: number } | null;
  readonly sources: readonly Source[];
}

/**
 * Seed to drop for a target stand: target over the share of planted seeds that good seed turns into plants; by weight
 * with the seeds in a pound of the class. A lot that germinates worse takes more: test it.
 */
export function seedNeeded(targetPerM2: number, marketClass: string): SeedNeeded {
  const perM2 = {
    low: seedsForStand(targetPerM2, 1, PLANTS_PER_SEED.high),
    high: seedsForStand(targetPerM2, 1, PLANTS_PER_SEED.low),
  };
  const known = marketClassOf(marketClass);
  if (known === null) return { perM2, kgPerM2: null, sources: [PLANTS_PER_SEED.source] };
  const { lowPerPound, highPerPound, source } = SEED_COUNTS[known];
  const mass = (seeds: number, perPound: number) => seedMassPerSquareMetre(seeds, seedsPerKilogramFromPound(perPound));
  return {
    perM2,
    kgPerM2: { low: mass(perM2.low, highPerPound), high: mass(perM2.high, lowPerPound) },
    sources: [PLANTS_PER_SEED.source, source],
  };
}
