/**
 * Lower triangular factor L of a symmetric positive definite matrix, A = L L'. Null when A is not positive definite
 * to working precision: the rows behind it do not fix all unknowns.
 */
export function cholesky(a: readonly (readonly number[])[]): number[][] | null {
  const n = a.length;
  const l = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i]![j]!;
      for (let k = 0; k < j; k++) sum -= l[i]![k]! * l[j]![k]!;
      if (i !== j) l[i]![j] = sum / l[j]![j]!;
      else if (sum > 1e-14 * a[i]![i]! && sum > 0) l[i]![i] = Math.sqrt(sum);
      else return null;
    }
  }
  return l;
}

/** Solves A x = b from the factor of A. */
export function solveCholesky(l: readonly (readonly number[])[], b: readonly number[]): number[] {
  const n = l.length;
  const x = [...b];
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i]! -= l[i]![k]! * x[k]!;
    x[i]! /= l[i]![i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i]! -= l[k]![i]! * x[k]!;
    x[i]! /= l[i]![i]!;
  }
  return x;
}

/** The inverse of A from its factor: the covariance, where A is the information of a fit. */
export function invertCholesky(l: readonly (readonly number[])[]): number[][] {
  return l.map((_, i) =>
    solveCholesky(
      l,
      l.map((_row, j) => (i === j ? 1 : 0)),
    ),
  );
}
