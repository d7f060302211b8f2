import type { Conflict } from '../../core/sync/mergeRecords.ts';
import type { ThingRow } from '../store/listThings.ts';
import type { WholeThing } from '../store/readThing.ts';

/** A row as it is told to the outside. */
export function toldRow(row: ThingRow) {
  const { search: _search, removed: _removed, updated_at: updatedAt, ...rest } = row;
  return { ...rest, updatedAt };
}

export function toldConflict({ path, sides }: Conflict) {
  return {
    path,
    sides: sides.map((side) => ({ ...side, value: side.value as unknown, replaces: [...side.replaces] })),
  };
}

export function toldThing({ row, document, conflicts }: WholeThing) {
  return { row: toldRow(row), document: document as unknown, conflicts: conflicts.map(toldConflict) };
}
