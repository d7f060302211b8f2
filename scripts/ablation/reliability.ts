/** One bin of a reliability diagram. */
export interface Bin {
  readonly from: number;
  readonly to: number;
  readonly n: number;
  readonly said: number;
  readonly right: number;
}

type Mark = { readonly confidence: number; readonly right: boolean };

/** Ten bins of equal width; empty ones left out. */
export function reliability(marks: readonly Mark[]): readonly Bin[] {
  return Array.from({ length: 10 }, (_, k): Bin => {
    const own = marks.filter(({ confidence }) => Math.min(9, Math.floor(confidence * 10)) === k);
    const n = own.length;
    return {
      from: k / 10,
      to: (k + 1) / 10,
      n,
      said: own.reduce((sum, mark) => sum + mark.confidence, 0) / n,
      right: own.filter((mark) => mark.right).length / n,
    };
  }).filter(({ n }) => n > 0);
}

/** Expected calibration error (Naeini, Cooper, Hauskrecht 2015, AAAI): mean gap of said and right, by marks. */
export function calibrationError(bins: readonly Bin[]): number {
  const all = bins.reduce((sum, { n }) => sum + n, 0);
  return bins.reduce((sum, { n, said, right }) => sum + (n / all) * Math.abs(said - right), 0);
}
