/**
 * Classes of ISO 7256/1 by spacing over theoretical spacing: I to 0.5 (a multiple), II to 1.5 (as meant), III to 2.5,
 * IV to 3.5 and V beyond (one, two, three or more seeds missing).
 */
export type SpacingClass = 'I' | 'II' | 'III' | 'IV' | 'V';

/** The upper end belongs to its class: exactly 0.5 is a multiple, exactly 1.5 is as meant. */
const UPPER_ENDS: ReadonlyArray<readonly [SpacingClass, number]> = [
  ['I', 0.5],
  ['II', 1.5],
  ['III', 2.5],
  ['IV', 3.5],
];

/** Lets a spacing that is exactly on an end on paper (0.35 - 0.20 over 0.10) stay there in binary arithmetic. */
const ROUNDING = 1e-9;

export function spacingClass(spacingM: number, theoreticalM: number): SpacingClass {
  if (!(theoreticalM > 0)) throw new RangeError(`a theoretical spacing is above 0 m, got ${theoreticalM}`);
  const ratio = spacingM / theoreticalM - ROUNDING;
  return UPPER_ENDS.find(([, end]) => ratio <= end)?.[0] ?? 'V';
}

/** How many spacings fall in each class. */
export function countClasses(
  spacings: readonly number[],
  theoreticalM: number,
): Readonly<Record<SpacingClass, number>> {
  const counts: Record<SpacingClass, number> = { I: 0, II: 0, III: 0, IV: 0, V: 0 };
  for (const spacing of spacings) counts[spacingClass(spacing, theoreticalM)]++;
  return counts;
}
