import type { Publication } from './publications.ts';
import { PUBLICATIONS } from './publications.ts';

/**
 * Where a rule, a table row or a threshold comes from. Everything that can sway advice carries one, and `--explain`
 * prints it.
 */
export type Source =
  /** Read in these publications. `note` says what was computed or carried over from another crop. */
  | { readonly kind: 'published'; readonly in: readonly Publication[]; readonly note?: string }
  /** Widely done, printed nowhere that we read. */
  | { readonly kind: 'common practice' }
  /** Follows from a definition. */
  | { readonly kind: 'definition'; readonly of: string }
  /** From memory of the literature: never a hard limit. */
  | { readonly kind: 'from memory'; readonly note: string }
  /** Our own choice, with the reason for it. */
  | { readonly kind: 'own'; readonly because: string }
  /** Typed in by the person who keeps the visit. */
  | { readonly kind: 'entered' };

/** A published source: `published('ndsuMinimumStands2002')`. */
export function published(...of: readonly Publication[]): Source {
  return { kind: 'published', in: of };
}

/** A published source of another crop or with a number worked out by us; the note says which. */
export function publishedWith(note: string, ...of: readonly Publication[]): Source {
  return { kind: 'published', in: of, note };
}

export const COMMON_PRACTICE: Source = { kind: 'common practice' };
export const ENTERED: Source = { kind: 'entered' };

export function own(because: string): Source {
  return { kind: 'own', because };
}

export function fromMemory(note: string): Source {
  return { kind: 'from memory', note };
}

/** One line for people: who says so. */
export function formatSource(source: Source): string {
  switch (source.kind) {
    case 'published': {
      const cited = source.in.map((id) => PUBLICATIONS[id].citation).join('; ');
      return source.note === undefined ? cited : `${cited} (${source.note})`;
    }
    case 'common practice':
      return 'common practice, no source';
    case 'definition':
      return `definition: ${source.of}`;
    case 'from memory':
      return `from memory, not confirmed: ${source.note}`;
    case 'own':
      return `our choice: ${source.because}`;
    case 'entered':
      return 'entered in this visit';
  }
}
