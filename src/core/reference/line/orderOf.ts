/** Numbers of the values in rising order, equal ones as they stand: a merge sort, since sorting by a function is slow. */
export function orderOf(values: Float64Array): Int32Array {
  const n = values.length;
  let from = new Int32Array(n);
  let to = new Int32Array(n);
  for (let i = 0; i < n; i++) from[i] = i;
  for (let run = 1; run < n; run *= 2) {
    for (let start = 0; start < n; start += 2 * run) {
      const middle = Math.min(n, start + run);
      const end = Math.min(n, middle + run);
      let a = start;
      let b = middle;
      for (let k = start; k < end; k++) {
        const left = b >= end || (a < middle && values[from[a]!]! <= values[from[b]!]!);
        to[k] = left ? from[a++]! : from[b++]!;
      }
    }
    [from, to] = [to, from];
  }
  return from;
}
