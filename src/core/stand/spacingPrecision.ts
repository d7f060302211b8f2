import { describe } from '../statistics/describe.ts';
import { spacingClass } from './spacingClass.ts';

/**
 * Precision of Kachman & Smith 1995 (Trans. ASAE 38:379-387): SD of the spacings that are neither multiples nor misses,
 * over the theoretical spacing. Small is good; 0.29 is what spacings spread evenly over 0.5 to 1.5 would give, and the
 * practical ceiling. Null below two such spacings.
 */
export function spacingPrecision(spacings: readonly number[], theoreticalM: number): number | null {
  const singles = spacings.filter((spacing) => spacingClass(spacing, theoreticalM) === 'II');
  const { sd } = describe(singles);
  return sd === null ? null : sd / theoreticalM;
}
