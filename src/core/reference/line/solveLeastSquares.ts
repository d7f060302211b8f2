import { solveNormal } from './solveNormal.ts';

/**
 * Weighted linear least squares by the normal equations with a whisper of damping; for the small, scaled systems of
 * this folder (at most 9 unknowns). Returns null when the rows do not fix the unknowns.
 */
export function solveLeastSquares(
  rows: readonly (readonly number[])[],
  values: readonly number[],
  weights: readonly number[] | null,
): number[] | null {
  const n = rows[0]?.length ?? 0;
  if (n === 0 || rows.length < n) return null;
  const a = Array.from({ length: n }, () => new Float64Array(n + 1));
  for (let k = 0; k < rows.length; k++) {
    const row = rows[k]!;
    const w = weights === null ? 1 : weights[k]!;
    if (w === 0) continue;
    for (let i = 0; i < n; i++) {
      const wi = w * row[i]!;
      for (let j = i; j < n; j++) a[i]![j]! += wi * row[j]!;
      a[i]![n]! += wi * values[k]!;
    }
  }
  return solveNormal(a);
}
