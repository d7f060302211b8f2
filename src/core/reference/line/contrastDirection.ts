import { solveLeastSquares } from './solveLeastSquares.ts';

/**
 * The colour direction in which differences (inside minus beside a ribbon) stand out best from their own spread:
 * Fisher's linear discriminant (1936), scaled so that the mean difference projects to 1. Null for no differences.
 */
export function contrastDirection(
  deltas: readonly (readonly [number, number, number])[],
): [number, number, number] | null {
  if (deltas.length < 4) return null;
  const mid = [0, 1, 2].map((c) => median(deltas.map((d) => d[c]!)));
  const cov = [0, 1, 2].map((i) =>
    [0, 1, 2].map((j) => {
      let sum = i === j ? 1e-3 * deltas.length : 0;
      for (const d of deltas) {
        // clipped, so that a leaf over the ribbon does not set the spread
        const a = Math.max(-0.6, Math.min(0.6, d[i]! - mid[i]!));
        const b = Math.max(-0.6, Math.min(0.6, d[j]! - mid[j]!));
        sum += a * b;
      }
      return sum / deltas.length;
    }),
  );
  const u = solveLeastSquares(cov, mid, null);
  if (u === null) return null;
  const gain = u[0]! * mid[0]! + u[1]! * mid[1]! + u[2]! * mid[2]!;
  if (!(gain > 1e-9)) return null;
  return [u[0]! / gain, u[1]! / gain, u[2]! / gain];
}

export function median(values: readonly number[]): number {
  if (values.length === 0) return Number.NaN;
  const sorted = Float64Array.from(values).sort();
  const m = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[m]! : (sorted[m - 1]! + sorted[m]!) / 2;
}
