import { describe } from '../statistics/describe.ts';

/** In-row spacing of the plants of one stretch; null where too few plants stand there to tell. */
export interface SpacingStatistics {
  /** Number of spacings, one less than plants. */
  readonly n: number;
  readonly meanM: number | null;
  /** Sample SD; null below two spacings. */
  readonly sdM: number | null;
  /** SD over mean; null where either is missing or all plants stand at one place. */
  readonly cv: number | null;
}

/** Distances between neighbouring plants along the row, metres, from where they stand (any order). */
export function spacingsM(positionsM: readonly number[]): number[] {
  const sorted = [...positionsM].sort((a, b) => a - b);
  return sorted.slice(1).map((position, i) => position - sorted[i]!);
}

/**
 * Number, mean, SD and CV of the spacings. One long skip dominates mean and SD, so read them beside the shares of
 * `plainShares` (Kachman & Smith 1995, Trans. ASAE 38:379-387).
 */
export function spacingStatistics(positionsM: readonly number[]): SpacingStatistics {
  const { n, mean, sd, cv } = describe(spacingsM(positionsM));
  return { n, meanM: mean, sdM: sd, cv };
}
