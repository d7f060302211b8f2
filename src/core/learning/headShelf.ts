import type { Head } from './head.ts';

/**
 * The heads of a farm: all that were ever taken, and who put which into use when. Nothing is removed, so every step can
 * be taken back; counts made before keep the detector version they name. Both lists only grow, so shelves of two devices
 * merge without a conflict: the last change counts.
 */
export interface HeadShelf {
  readonly heads: readonly Head[];
  readonly changes: readonly HeadChange[];
}

export interface HeadChange {
  readonly id: string;
  /** ISO 8601 with offset. */
  readonly at: string;
  readonly by: string;
  /** Id of the head put into use; null: the stock detector. */
  readonly inUse: string | null;
}

/** Who changes what is in use, and when. */
export type ChangeOfUse = Omit<HeadChange, 'inUse'>;

export const EMPTY_SHELF: HeadShelf = { heads: [], changes: [] };

/** Puts a new head on the shelf and into use. One that is there already is only put into use. */
export function adoptHead(shelf: HeadShelf, head: Head, change: ChangeOfUse): HeadShelf {
  const known = shelf.heads.some(({ id }) => id === head.id);
  return useHead(known ? shelf : { ...shelf, heads: [...shelf.heads, head] }, head.id, change);
}

/** Puts an earlier head, or with null the stock detector, into use. Throws RangeError for a head not on the shelf. */
export function useHead(shelf: HeadShelf, id: string | null, change: ChangeOfUse): HeadShelf {
  if (id !== null && !shelf.heads.some((head) => head.id === id)) {
    throw new RangeError(`there is no head "${id}"; there are: ${shelf.heads.map((h) => h.id).join(', ') || 'none'}`);
  }
  if (headInUse(shelf)?.id === (id ?? undefined)) return shelf;
  return { ...shelf, changes: [...shelf.changes, { ...change, inUse: id }] };
}

/** The head in use, by the last change; null: the stock detector. */
export function headInUse({ heads, changes }: HeadShelf): Head | null {
  const last = [...changes].sort(
    (a, b) => Date.parse(a.at) - Date.parse(b.at) || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0),
  );
  const id = last.at(-1)?.inUse ?? null;
  return heads.find((head) => head.id === id) ?? null;
}
