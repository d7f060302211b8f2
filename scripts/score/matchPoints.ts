export interface Matching {
  /** Pairs of indices (found, true), each at most once, nearest pairs first. */
  readonly pairs: readonly (readonly [number, number])[];
  readonly missed: readonly number[];
  readonly falseAlarms: readonly number[];
}

/** Pairs found points with true ones, nearest first, none farther apart than `within` (same unit as the points). */
export function matchPoints(
  found: readonly (readonly [number, number])[],
  truth: readonly (readonly [number, number])[],
  within: number,
): Matching {
  const near: { f: number; t: number; d: number }[] = [];
  found.forEach(([fx, fy], f) => {
    truth.forEach(([tx, ty], t) => {
      const d = Math.hypot(fx - tx, fy - ty);
      if (d <= within) near.push({ f, t, d });
    });
  });
  near.sort((a, b) => a.d - b.d);
  const usedFound = new Set<number>();
  const usedTruth = new Set<number>();
  const pairs: [number, number][] = [];
  for (const { f, t } of near) {
    if (usedFound.has(f) || usedTruth.has(t)) continue;
    usedFound.add(f);
    usedTruth.add(t);
    pairs.push([f, t]);
  }
  return {
    pairs,
    missed: truth.map((_, t) => t).filter((t) => !usedTruth.has(t)),
    falseAlarms: found.map((_, f) => f).filter((f) => !usedFound.has(f)),
  };
}

/** Harmonic mean of precision and recall; null when there was nothing to find and nothing was found. */
export function f1({ pairs, missed, falseAlarms }: Matching): number | null {
  const all = 2 * pairs.length + missed.length + falseAlarms.length;
  return all === 0 ? null : (2 * pairs.length) / all;
}
