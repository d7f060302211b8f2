/**
 * In-place fast Fourier transform of complex numbers (radix 2, Cooley and Tukey 1965). Both arrays must have the same
 * power-of-two length. Throws RangeError otherwise.
 */
export function fft(re: Float64Array, im: Float64Array): void {
  const n = re.length;
  if (n !== im.length || (n & (n - 1)) !== 0 || n < 2) {
    throw new RangeError(`a transform needs two arrays of the same power-of-two length, got ${n} and ${im.length}`);
  }
  for (let i = 1, j = 0; i < n; i++) {
    let bit = n >> 1;
    for (; j & bit; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i < j) {
      const a = re[i]!;
      re[i] = re[j]!;
      re[j] = a;
      const b = im[i]!;
      im[i] = im[j]!;
      im[j] = b;
    }
  }
  const { cos, sin } = twiddles(n);
  for (let size = 2; size <= n; size <<= 1) {
    const h = size >> 1;
    const step = n / size;
    for (let i = 0; i < n; i += size) {
      for (let j = 0, k = 0; j < h; j++, k += step) {
        const p = i + j;
        const q = p + h;
        const xr = re[q]! * cos[k]! - im[q]! * sin[k]!;
        const xi = re[q]! * sin[k]! + im[q]! * cos[k]!;
        re[q] = re[p]! - xr;
        im[q] = im[p]! - xi;
        re[p]! += xr;
        im[p]! += xi;
      }
    }
  }
}

const TABLES = new Map<number, { readonly cos: Float32Array; readonly sin: Float32Array }>();

/** Roots of unity, kept per length: a search transforms the same length hundreds of times. */
function twiddles(n: number): { readonly cos: Float32Array; readonly sin: Float32Array } {
  const known = TABLES.get(n);
  if (known !== undefined) return known;
  const half = n >> 1;
  // single precision: there every engine's sine and cosine round alike
  const cos = Float32Array.from({ length: half }, (_, i) => Math.cos((2 * Math.PI * i) / n));
  const sin = Float32Array.from({ length: half }, (_, i) => -Math.sin((2 * Math.PI * i) / n));
  const made = { cos, sin };
  TABLES.set(n, made);
  return made;
}
