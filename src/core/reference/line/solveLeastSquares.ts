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
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) a[i]![j] = a[j]![i]!;
  for (let i = 0; i < n; i++) a[i]![i]! *= 1 + 1e-12;
  for (let i = 0; i < n; i++) {
    let pivot = i;
    for (let r = i + 1; r < n; r++) if (Math.abs(a[r]![i]!) > Math.abs(a[pivot]![i]!)) pivot = r;
    [a[i], a[pivot]] = [a[pivot]!, a[i]!];
    const d = a[i]![i]!;
    if (!(Math.abs(d) > 1e-12)) return null;
    for (let r = 0; r < n; r++) {
      if (r === i) continue;
      const f = a[r]![i]! / d;
      if (f !== 0) for (let c = i; c <= n; c++) a[r]![c]! -= f * a[i]![c]!;
    }
  }
  return a.map((row, i) => row[n]! / row[i]!);
}
