import type { Head } from './head.ts';

/**
 * The heads of a farm: all that were ever taken, which one is in use, and who changed that when. Nothing is removed, so
 * every step can be taken back; counts made before keep the detector version they name.
 */
export interface HeadShelf {
  readonly heads: readonly Head[];
  /** Id of the head in use; null: the stock detector. */
  readonly inUse: string | null;
  /** Oldest first. */
  readonly changes: readonly HeadChange[];
}

export interface HeadChange {
  /** ISO 8601 with offset. */
  readonly at: string;
  readonly by: string;
  readonly inUse: string | null;
}

export const EMPTY_SHELF: HeadShelf = { heads: [], inUse: null, changes: [] };

/** Puts a new head on the shelf and into use. One that is there already is only put into use. */
export function adoptHead(shelf: HeadShelf, head: Head, at: string, by: string): HeadShelf {
  const known = shelf.heads.some(({ id }) => id === head.id);
  return useHead(known ? shelf : { ...shelf, heads: [...shelf.heads, head] }, head.id, at, by);
}

/** Puts an earlier head, or with null the stock detector, into use. Throws RangeError for a head not on the shelf. */
export function useHead(shelf: HeadShelf, id: string | null, at: string, by: string): HeadShelf {
  if (id !== null && !shelf.heads.some((head) => head.id === id)) {
    throw new RangeError(`there is no head "${id}"; there are: ${shelf.heads.map((h) => h.id).join(', ') || 'none'}`);
  }
  if (shelf.inUse === id) return shelf;
  return { ...shelf, inUse: id, changes: [...shelf.changes, { at, by, inUse: id }] };
}

/** The head in use; null: the stock detector. */
export function headInUse({ heads, inUse }: HeadShelf): Head | null {
  return heads.find(({ id }) => id === inUse) ?? null;
}
