import type { MarkCall, MarkLabel } from './example.ts';

/** From this chance on, a mark is said to be a double rather than one plant. */
const DOUBLE_FROM = 0.5;

/**
 * Whether a person has to correct this mark for the plants under it to be right: 1 or 0. Weed against stone is no error,
 * since neither is counted.
 */
export function markError({ kind, doubleChance }: MarkCall, label: MarkLabel): 0 | 1 {
  const said = kind !== 'plant' ? 0 : doubleChance >= DOUBLE_FROM ? 2 : 1;
  const stands = label === 'plant' ? 1 : label === 'double' ? 2 : 0;
  return said === stands ? 0 : 1;
}
