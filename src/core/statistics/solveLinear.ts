/** Solves a small square system by Gaussian elimination with row pivoting; null where it is singular. */
export function solveLinear(matrix: readonly (readonly number[])[], right: readonly number[]): number[] | null {
  const n = right.length;
  const rows = matrix.map((row, i) => [...row, right[i]!]);
  for (let col = 0; col < n; col++) {
    let pivot = col;
    for (let r = col + 1; r < n; r++) if (Math.abs(rows[r]![col]!) > Math.abs(rows[pivot]![col]!)) pivot = r;
    const top = rows[pivot]!;
    if (!(Math.abs(top[col]!) > 0)) return null;
    [rows[pivot], rows[col]] = [rows[col]!, top];
    for (let r = col + 1; r < n; r++) {
      const factor = rows[r]![col]! / top[col]!;
      for (let c = col; c <= n; c++) rows[r]![c]! -= factor * top[c]!;
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let r = n - 1; r >= 0; r--) {
    let sum = rows[r]![n]!;
    for (let c = r + 1; c < n; c++) sum -= rows[r]![c]! * x[c]!;
    x[r] = sum / rows[r]![r]!;
  }
  return x.every(Number.isFinite) ? x : null;
}
