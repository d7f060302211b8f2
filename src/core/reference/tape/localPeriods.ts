import { fft } from './fft.ts';

/** A guess of an even pattern whose places may wander: cycles per unit of t, and the foreshortening. */
export interface PeriodGuess {
  readonly c: number;
  readonly perT: number;
  readonly score: number;
}

const SIZE = 512;

/** Score (standard errors of the mean log power, about) below which a period is chance; bare soil gives 1 to 1.5. */
const LEAST = 3;

/**
 * Periods from short stretches alone, without holding their phases together: where the ground under a tape rises and
 * falls by a centimetre, graduations seen obliquely shift by a period or more, and a transform of the whole length sees
 * no line. Sums each stretch's log spectrum along the curve of local frequency that (perT, c) imply.
 */
export function localPeriods(
  signals: readonly Float32Array[],
  guess: number,
  reach: number,
  most: number,
  widthPx: number,
): PeriodGuess[] {
  const n = signals[0]!.length;
  const short = Math.max(48, Math.min(SIZE, Math.round(n / 18)));
  const found = periodsWithin(signals, guess, reach, most, short, 0.3 * n);
  // an inch is up to two widths of a tape: on a short tape that takes longer stretches to see
  const long = Math.min(SIZE, Math.round(7 * widthPx));
  if (long > 1.3 * short) found.push(...periodsWithin(signals, guess, reach, most, long, (1.8 * n) / short));
  found.sort((a, b) => b.score - a.score);
  const kept: PeriodGuess[] = [];
  for (const f of found) {
    if (kept.every((k) => Math.abs(Math.log(k.perT / f.perT)) > 0.09)) kept.push(f);
  }
  return kept.slice(0, most);
}

function periodsWithin(
  signals: readonly Float32Array[],
  guess: number,
  reach: number,
  most: number,
  length: number,
  fastest: number,
): PeriodGuess[] {
  const n = signals[0]!.length;
  const hop = Math.max(24, length >> 1);
  const windows: { u: number; log: Float32Array }[] = [];
  for (let from = 0; from + length <= n; from += hop) {
    const log = logSpectrum(signals, from, length);
    if (log !== null) windows.push({ u: (2 * (from + length / 2)) / n - 1, log });
  }
  if (windows.length < 4) return [];
  const score = (c: number, perT: number): number => {
    let sum = 0;
    let terms = 0;
    for (const { u, log } of windows) {
      const f = ((perT * 2) / n / (1 + c * u) ** 2) * SIZE;
      if (f < 2.5 * (SIZE / length)) continue;
      for (let k = 1; k <= 6; k++) {
        const at = k * f;
        if (at > 0.44 * SIZE) break;
        const j = at | 0;
        sum += log[j]! + (at - j) * (log[j + 1]! - log[j]!);
        terms++;
      }
    }
    return terms >= windows.length ? sum / Math.sqrt(terms) : 0;
  };
  const found: PeriodGuess[] = [];
  const steps = Math.max(4, Math.round(reach / 0.0075));
  const slowest = (1.5 * n) / length;
  for (let i = -steps; i <= steps; i++) {
    const c = Math.max(-0.85, Math.min(0.85, guess + (reach * i) / steps));
    for (let perT = slowest; perT < fastest; perT *= 1.006) {
      const value = score(c, perT);
      if (value > LEAST) found.push({ c, perT, score: value });
    }
  }
  found.sort((a, b) => b.score - a.score);
  const kept: PeriodGuess[] = [];
  for (const f of found) {
    // slips of the same pattern by a few percent are not other patterns
    if (kept.some((k) => Math.abs(Math.log(k.perT / f.perT)) < 0.09)) continue;
    kept.push(finer(f));
    if (kept.length >= most) break;
  }
  return kept;

  function finer(start: PeriodGuess): PeriodGuess {
    let best = start;
    for (const [dc, dp] of [
      [reach / steps / 3, 0.002],
      [reach / steps / 12, 0.0005],
    ] as const) {
      const from = best;
      for (let i = -4; i <= 4; i++) {
        for (let j = -5; j <= 5; j++) {
          const c = from.c + i * dc;
          const perT = from.perT * (1 + j * dp);
          const value = score(c, perT);
          if (value > best.score) best = { c, perT, score: value };
        }
      }
    }
    return best;
  }
}

/** Mean-zero (for noise) log power of a stretch, groups summed; null where too much is covered. */
function logSpectrum(signals: readonly Float32Array[], from: number, length: number): Float32Array | null {
  let empty = 0;
  for (let k = 0; k < length; k++) if (signals.every((s) => s[from + k] === 0)) empty++;
  if (empty > 0.4 * length) return null;
  const half = SIZE >> 1;
  const total = new Float32Array(half + 2);
  for (let g = 0; g < signals.length; g += 2) {
    const re = new Float64Array(SIZE);
    const im = new Float64Array(SIZE);
    for (let k = 0; k < length; k++) {
      const hann = 0.5 - 0.5 * Math.fround(Math.cos((2 * Math.PI * (k + 0.5)) / length));
      re[k] = signals[g]![from + k]! * hann;
      im[k] = signals[g + 1]![from + k]! * hann;
    }
    fft(re, im);
    for (let k = 0; k <= half; k++) {
      const m = (SIZE - k) % SIZE;
      total[k]! += re[k]! ** 2 + im[k]! ** 2 + re[m]! ** 2 + im[m]! ** 2;
    }
  }
  const low = Math.ceil((2.5 * SIZE) / length);
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
