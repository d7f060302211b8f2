import type { Ribbon } from './ribbon.ts';

/** Whether readings grow along s: from the only end seen, else from the photo's left, or its bottom for a steep line. */
export function startsAtFrom(ribbon: Ribbon, seen: readonly [boolean, boolean]): boolean {
  if (seen[0] !== seen[1]) return seen[0];
  const [dx, dy] = ribbon.dir;
  return Math.abs(dx) >= Math.abs(dy) ? dx > 0 : dy < 0;
}
