import type { DensityUnit } from './density.ts';
import { formatNumber } from './formatNumber.ts';

const SUFFIX: Readonly<Record<DensityUnit, string>> = {
  perAcre: '/ac',
  perHectare: '/ha',
  perSquareFoot: '/ft²',
  perSquareMetre: '/m²',
};

/**
 * A population for people, given in the unit named: `75,000 plants/ac`, `18.5 plants/m²`. Rounded to what a stand
 * count can tell: thousands from 20,000 on, hundreds from 1,000, tens from 100; one decimal per square metre, two per
 * square foot.
 */
export function formatPopulation(value: number, unit: DensityUnit, what: 'plants' | 'seeds' = 'plants'): string {
  return `${formatPopulationNumber(value, unit)} ${what}${SUFFIX[unit]}`;
}

/** The number of `formatPopulation` alone, for tables and ranges. */
export function formatPopulationNumber(value: number, unit: DensityUnit): string {
  if (!Number.isFinite(value)) return 'unknown';
  if (unit === 'perSquareMetre') return formatNumber(value, 1);
  if (unit === 'perSquareFoot') return formatNumber(value, 2);
  const size = Math.abs(value);
  const step = size >= 20_000 ? 1000 : size >= 1000 ? 100 : size >= 100 ? 10 : 1;
  return formatNumber(Math.round(value / step) * step, 0);
}
