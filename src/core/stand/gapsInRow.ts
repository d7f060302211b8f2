/** A bare run of row. */
export interface GapInRow {
  readonly fromM: number;
  readonly toM: number;
  readonly lengthM: number;
}

/** A run this little above the threshold is the threshold, written in binary: 0.3 - 0.1 is 0.19999999999999998. */
const ROUNDING_M = 1e-9;

/**
 * Every bare run of a stretch that is longer than the threshold, at its two ends too, in order along the row. A run at
 * an end reaches from the end to the nearest plant inside. Plants outside the stretch do not count; without any plant
 * the whole stretch is one run.
 */
export function gapsInRow(
  positionsM: readonly number[],
  fromM: number,
  toM: number,
  thresholdM: number,
): readonly GapInRow[] {
  if (!(toM >= fromM)) throw new RangeError(`a stretch ends after it begins, got ${fromM} to ${toM} m`);
  if (!(thresholdM > 0)) throw new RangeError(`a gap threshold is above 0 m, got ${thresholdM}`);
  const inside = positionsM.filter((p) => p >= fromM && p <= toM).sort((a, b) => a - b);
  const stops = [fromM, ...inside, toM];
  const gaps: GapInRow[] = [];
  for (let i = 1; i < stops.length; i++) {
    const [from, to] = [stops[i - 1]!, stops[i]!];
    if (to - from > thresholdM + ROUNDING_M) gaps.push({ fromM: from, toM: to, lengthM: to - from });
  }
  return gaps;
}

/** Share of a stretch that lies in gaps; null for a stretch without length. */
export function shareInGaps(gaps: ReadonlyArray<{ readonly lengthM: number }>, stretchM: number): number | null {
  if (!(stretchM > 0)) return null;
  return gaps.reduce((sum, gap) => sum + gap.lengthM, 0) / stretchM;
}
