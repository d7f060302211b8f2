import { square } from '../../statistics/square.ts';
import { fft } from './fft.ts';

/** Points of every transform; shorter stretches are padded. */
export const SPECTRUM_SIZE = 512;

/** The log spectrum of one stretch of print, level taken out; `u` is its middle, -1 .. 1 over the band. */
export interface PrintSpectrum {
  readonly u: number;
  readonly log: Float32Array;
}

/** Spectra of stretches of `length` columns, each half over the one before; stretches that are mostly covered are left out. */
export function spectra(signals: readonly Float32Array[], length: number): PrintSpectrum[] {
  const n = signals[0]!.length;
  const hop = Math.max(24, length >> 1);
  const out: PrintSpectrum[] = [];
  for (let from = 0; from + length <= n; from += hop) {
    const log = logSpectrum(signals, from, length);
    if (log !== null) out.push({ u: (2 * (from + length / 2)) / n - 1, log });
  }
  return out;
}

/** Mean-zero (for noise) log power of a stretch, groups summed; null where too much is covered. */
function logSpectrum(signals: readonly Float32Array[], from: number, length: number): Float32Array | null {
  let empty = 0;
  for (let k = 0; k < length; k++) if (signals.every((s) => s[from + k] === 0)) empty++;
  if (empty > 0.4 * length) return null;
  const half = SPECTRUM_SIZE >> 1;
  const total = new Float32Array(half + 2);
  for (let g = 0; g < signals.length; g += 2) {
    const re = new Float64Array(SPECTRUM_SIZE);
    const im = new Float64Array(SPECTRUM_SIZE);
    for (let k = 0; k < length; k++) {
      const hann = 0.5 - 0.5 * Math.fround(Math.cos((2 * Math.PI * (k + 0.5)) / length));
      re[k] = signals[g]![from + k]! * hann;
      im[k] = signals[g + 1]![from + k]! * hann;
    }
    fft(re, im);
    for (let k = 0; k <= half; k++) {
      const m = (SPECTRUM_SIZE - k) % SPECTRUM_SIZE;
      total[k]! += square(re[k]!) + square(im[k]!) + square(re[m]!) + square(im[m]!);
    }
  }
  const low = Math.ceil((2.5 * SPECTRUM_SIZE) / length);
  const out = new Float32Array(half + 2);
  const block = 40;
  for (let k = 0; k <= half; k++) out[k] = Math.log(total[k]! + 1e-6);
  const sums = new Float64Array(half + 2);
  for (let k = 0; k <= half; k++) sums[k + 1] = sums[k]! + out[k]!;
  const level = new Float32Array(half + 1);
  for (let k = 0; k <= half; k++) {
    const a = Math.max(low, k - block);
    const b = Math.min(half, Math.max(low + 8, k + block));
    level[k] = (sums[b]! - sums[a]!) / (b - a);
  }
  for (let k = 0; k <= half; k++) out[k] = k < low ? 0 : Math.max(-1.5, Math.min(3, out[k]! - level[k]!));
  return out;
}
