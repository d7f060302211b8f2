/**
 * Solves normal equations, each row with its right-hand side behind it. Only the upper triangle is read; the rows are
 * overwritten.
 */
export function solveNormal(a: Float64Array[]): number[] | null {
  const n = a.length;
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
