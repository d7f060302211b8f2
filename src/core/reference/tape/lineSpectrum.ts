import { fft } from './fft.ts';
import { BAND_ROWS, type InkBand } from './inkBand.ts';

/** Row groups whose spectra are taken apart: one edge, the two middles, the other edge. */
export const GROUPS = 4;

/** Print of each row group along the ribbon, mean 0 over a moving window, 0 where covered. */
export function groupSignals(band: InkBand, windowColumns: number): Float32Array[] {
  const per = BAND_ROWS / GROUPS;
  return Array.from({ length: GROUPS }, (_, g) => {
    const sum = new Float32Array(band.columns);
    for (let r = g * per; r < (g + 1) * per; r++) {
      const row = band.rows[r]!;
      for (let k = 0; k < band.columns; k++) sum[k]! += row[k]! / per;
    }
    return withoutTrend(sum, band.valid, windowColumns);
  });
}

function withoutTrend(signal: Float32Array, valid: Uint8Array, window: number): Float32Array {
  const n = signal.length;
  const total = new Float64Array(n + 1);
  const count = new Float64Array(n + 1);
  for (let k = 0; k < n; k++) {
    total[k + 1] = total[k]! + (valid[k] ? signal[k]! : 0);
    count[k + 1] = count[k]! + valid[k]!;
  }
  const half = window >> 1;
  const out = new Float32Array(n);
  for (let k = 0; k < n; k++) {
    if (!valid[k]) continue;
    const a = Math.max(0, k - half);
    const b = Math.min(n, k + half + 1);
    const c = count[b]! - count[a]!;
    out[k] = c > 0 ? signal[k]! - (total[b]! - total[a]!) / c : 0;
  }
  return out;
}

/**
 * The projective change of place that makes graduations even: u runs from -1 to 1 over the ribbon, t = u / (1 + c u).
 * Readings are linear in t when c is the ribbon's true foreshortening, which its taper also is: width goes as 1 + c u.
 */
export function straightened(c: number): { readonly fromT: number; readonly toT: number } {
  return { fromT: -1 / (1 - c), toT: 1 / (1 + c) };
}

export interface LineSpectrum {
  readonly c: number;
  /** Transform length and how many of its samples hold signal. */
  readonly size: number;
  readonly samples: number;
  readonly fromT: number;
  readonly stepT: number;
  /** Power of each group, bins 0 .. size / 2. */
  readonly power: readonly Float32Array[];
}

/** Power spectra of the group signals after straightening by c, sampled at `samples` even steps of t. */
export function lineSpectrum(signals: readonly Float32Array[], c: number, samples: number, size: number): LineSpectrum {
  const { fromT, toT } = straightened(c);
  const stepT = (toT - fromT) / samples;
  const n = signals[0]!.length;
  const place = new Float64Array(samples);
  for (let j = 0; j < samples; j++) {
    const t = fromT + (j + 0.5) * stepT;
    place[j] = ((t / (1 - c * t) + 1) / 2) * n - 0.5;
  }
  const power: Float32Array[] = [];
  const half = size >> 1;
  for (let g = 0; g < signals.length; g += 2) {
    const re = new Float64Array(size);
    const im = new Float64Array(size);
    fill(re, signals[g]!, place);
    fill(im, signals[g + 1]!, place);
    fft(re, im);
    const a = new Float32Array(half + 1);
    const b = new Float32Array(half + 1);
    // two real signals in one transform: split by symmetry
    for (let k = 0; k <= half; k++) {
      const m = (size - k) % size;
      const ar = (re[k]! + re[m]!) / 2;
      const ai = (im[k]! - im[m]!) / 2;
      const br = (im[k]! + im[m]!) / 2;
      const bi = (re[m]! - re[k]!) / 2;
      a[k] = ar * ar + ai * ai;
      b[k] = br * br + bi * bi;
    }
    power.push(a, b);
  }
  return { c, size, samples, fromT, stepT, power };
}

function fill(into: Float64Array, signal: Float32Array, place: Float64Array): void {
  const last = signal.length - 1;
  for (let j = 0; j < place.length; j++) {
    const p = place[j]!;
    if (p < 0 || p > last) continue;
    const k = Math.min(last - 1, p | 0);
    const f = p - k;
    into[j] = signal[k]! * (1 - f) + signal[k + 1]! * f;
  }
}

/** Mean of chosen groups' power over their noise floors: 1 where there is only noise. */
export function whitened(spectrum: LineSpectrum, groups: readonly number[]): Float32Array {
  const half = spectrum.size >> 1;
  const out = new Float32Array(half + 1);
  for (const g of groups) {
    const p = spectrum.power[g]!;
    const floor = noiseFloor(p, Math.max(24, Math.round(half / 40)));
    for (let k = 0; k <= half; k++) out[k]! += p[k]! / (floor[k]! * groups.length);
  }
  return out;
}

/** Geometric mean of blocks, interpolated: few strong lines hardly raise it. */
function noiseFloor(power: Float32Array, block: number): Float32Array {
  const n = power.length;
  const blocks = Math.max(2, Math.ceil(n / block));
  const floors = new Float64Array(blocks);
  for (let b = 0; b < blocks; b++) {
    const from = Math.floor((b * n) / blocks);
    const to = Math.max(from + 1, Math.floor(((b + 1) * n) / blocks));
    let sum = 0;
    for (let k = from; k < to; k++) sum += Math.log(power[k]! + 1e-9);
    // exponential noise: the mean of the logarithm lies Euler's constant below the logarithm of the mean
    floors[b] = Math.exp(sum / (to - from) + 0.5772);
  }
  const out = new Float32Array(n);
  for (let k = 0; k < n; k++) {
    const p = Math.max(0, Math.min(blocks - 1, ((k + 0.5) * blocks) / n - 0.5));
    const b = Math.min(blocks - 2, p | 0);
    out[k] = floors[b]! * (1 - (p - b)) + floors[b + 1]! * (p - b);
  }
  return out;
}
