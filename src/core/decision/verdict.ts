import type { IsoDay } from '../outlook/calendar.ts';
import type { Source } from '../sources/source.ts';

/** The four answers. */
export type Verdict =
  | { readonly kind: 'keep' }
  | { readonly kind: 'wait'; readonly recountBy: IsoDay }
  | { readonly kind: 'cost replant'; readonly scope: 'whole field' }
  | { readonly kind: 'cost replant'; readonly scope: 'zones'; readonly zones: readonly string[] }
  | { readonly kind: 'too few spots'; readonly moreSpots: number };

export interface Reason {
  readonly says: string;
  readonly source: Source;
}

export interface Decision {
  readonly verdict: Verdict;
  /** The rule that decided, in words. */
  readonly because: string;
  readonly source: Source;
  /** The strongest three. */
  readonly reasons: readonly Reason[];
  readonly wouldChange: readonly string[];
}
