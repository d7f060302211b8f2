import type { VisitCount } from '../../core/visit/countSchema.ts';
import type { Settings } from '../state/settings.ts';

export type HandCount = Exclude<VisitCount, { kind: 'photo' }>;

/** An empty hand count of a kind, with the sizes that this person used last. */
export function emptyCount(id: string, kind: HandCount['kind'], used: Settings): HandCount {
  const sizes = used.units === 'imperial' ? { hoop: '30 in', side: '3 ft' } : { hoop: '75 cm', side: '1 m' };
  if (kind === 'hoop') return { id, kind, insideDiameter: used.hoop || sizes.hoop, plants: 0 };
  if (kind === 'rows') return { id, kind, length: used.tallyLength, plants: [0] };
  const [width = sizes.side, length = sizes.side] = used.quadrat;
  return { id, kind, width, length, plants: 0 };
}

/** Plants of one row of a count, or of the whole of a hoop or quadrat. */
export function plantsIn(count: HandCount, row: number): number {
  return count.kind === 'rows' ? (count.plants[row] ?? 0) : count.plants;
}

/** The count with so many plants more or fewer in one row, never below none. */
export function plantsAdded(count: HandCount, row: number, by: number): HandCount {
  if (count.kind !== 'rows') return { ...count, plants: Math.max(0, count.plants + by) };
  return { ...count, plants: count.plants.map((n, i) => (i === row ? Math.max(0, n + by) : n)) };
}

/** Whether nothing was counted yet, so that another way of counting loses nothing. */
export function isEmpty(count: HandCount): boolean {
  return count.kind === 'rows'
    ? count.plants.length === 1 && count.plants[0] === 0 && count.readings === undefined && count.gaps === undefined
    : count.plants === 0;
}
