import { square } from '../../statistics/square.ts';
import { fft } from './fft.ts';
import type { PeriodGuess } from './localPeriods.ts';

/** Points of the transform: enough for two of every column that are kept apart. */
const LEAST_SIZE = 2048;
const MOST_SIZE = 16384;
const STEP_C = 0.0015;
/**
 * A numbered unit is no longer than so many widths of the tape as seen, foreshortened as it is: what repeats at longer
 * distances is shade, figures, soil. Marks nearer than so many columns are not told from their overtones.
 */
const LONGEST_WIDTHS = 4;
const FEWEST = 20;
const NEAREST_PX = 2.05;
/** Frequencies to either side that say what chance gives: a share of the frequency, and so many steps at least and most. */
const BESIDE_SHARE = 0.2;
const BESIDE: readonly [number, number] = [24, 120];
/**
 * Power over chance, the four row groups together, that is worth following. On 244 strips of bare soil beside the references
 * of rendered photos the most was over 26 in 17 and over 30 in 6; on tapes it is 30 to 200.
 */
const LEAST_POWER = 26;
/** The score of `localPeriods` at which a period is no chance, and the power that is as sure. */
const SURE_SCORE = 6;
const SURE_POWER = 29.5;
/** Photos are packed in blocks of so many pixels, edges of a strip step from pixel row to pixel row. */
const BLOCK_PX = 8;
const GRID_SHARE = 0.006;
const GRID_PARTS = 4;
const APART = 0.04;

/**
 * Periods of print over the whole band at once, their phases held together: marks so faint that no short stretch shows
 * them, on a tape that lies even enough. For each foreshortening the band is resampled to where its marks would be evenly
 * spaced, and transformed. Periods of the picture's own grid are left out.
 *
 * @param dir unit vector of the band in the photo
 */
export function wholePeriods(
  signals: readonly Float32Array[],
  guess: number,
  reach: number,
  most: number,
  widthPx: number,
  dir: readonly [number, number],
): PeriodGuess[] {
  const n = signals[0]!.length;
  const fewest = Math.max(FEWEST, n / (LONGEST_WIDTHS * widthPx));
  const steps = Math.ceil(reach / STEP_C);
  const found: { c: number; perT: number; power: number }[] = [];
  for (let i = -steps; i <= steps; i++) {
    const c = guess + i * STEP_C;
    if (!(Math.abs(c) < 0.85)) continue;
    const points = Math.min(MOST_SIZE / 2, Math.round(n / (1 - Math.abs(c))));
    let size = LEAST_SIZE;
    while (size < 2 * points) size *= 2;
    const over = powerOverChance(signals, c, points, size);
    const perBin = points / size;
    for (let k = Math.ceil(fewest / perBin); k < size / 2; k++) {
      const periods = k * perBin;
      // the narrowest period lies at the far end: (1 - |c|) of the mean one
      if ((n / periods) * (1 - Math.abs(c)) < NEAREST_PX) break;
      if (over[k]! < LEAST_POWER || isGrid(n / periods, c, dir)) continue;
      found.push({ c, perT: (periods * (1 - square(c))) / 2, power: over[k]! });
    }
  }
  found.sort((a, b) => b.power - a.power);
  const kept: PeriodGuess[] = [];
  for (const { c, perT, power } of found) {
    const apart = (k: PeriodGuess): boolean => Math.abs(k.perT / perT - 1) > APART;
    if (kept.every(apart)) kept.push({ c, perT, score: SURE_SCORE * Math.sqrt(power / SURE_POWER) });
    if (kept.length >= most) break;
  }
  return kept;
}

/** Power of each frequency over its neighbours' mean, row groups added, for the band resampled evenly in t = u / (1 + c u). */
function powerOverChance(signals: readonly Float32Array[], c: number, points: number, size: number): Float64Array {
  const n = signals[0]!.length;
  const [from, to] = [-1 / (1 - c), 1 / (1 + c)];
  const total = new Float64Array(size / 2);
  for (let g = 0; g < signals.length; g += 2) {
    const re = new Float64Array(size);
    const im = new Float64Array(size);
    for (let k = 0; k < points; k++) {
      const t = from + ((to - from) * (k + 0.5)) / points;
      const at = ((t / (1 - c * t) + 1) / 2) * n - 0.5;
      const a = Math.max(0, Math.min(n - 2, Math.floor(at)));
      const f = at - a;
      re[k] = signals[g]![a]! * (1 - f) + signals[g]![a + 1]! * f;
      im[k] = signals[g + 1]![a]! * (1 - f) + signals[g + 1]![a + 1]! * f;
    }
    fft(re, im);
    // two real bands in one transform: even and odd parts
    const one = new Float64Array(size / 2);
    const two = new Float64Array(size / 2);
    for (let k = 1; k < size / 2; k++) {
      const m = size - k;
      one[k] = square(re[k]! + re[m]!) + square(im[k]! - im[m]!);
      two[k] = square(im[k]! + im[m]!) + square(re[k]! - re[m]!);
    }
    addOverMean(total, one);
    addOverMean(total, two);
  }
  return total;
}

function addOverMean(total: Float64Array, power: Float64Array): void {
  const n = power.length;
  const sums = new Float64Array(n + 1);
  for (let k = 0; k < n; k++) sums[k + 1] = sums[k]! + power[k]!;
  for (let k = 0; k < n; k++) {
    const beside = Math.round(Math.max(BESIDE[0], Math.min(BESIDE[1], BESIDE_SHARE * k)));
    const [a, b] = [Math.max(1, k - beside), Math.min(n, k + beside + 1)];
    const mean = (sums[b]! - sums[a]!) / (b - a);
    if (mean > 0) total[k]! += power[k]! / mean;
  }
}

/** Whether an evenly spaced period is that of packed blocks, or of edges that step across rows or columns of pixels. */
function isGrid(px: number, c: number, dir: readonly [number, number]): boolean {
  if (Math.abs(c) > GRID_SHARE) return false;
  return dir.some((d) => {
    const step = Math.abs(d) * px;
    for (let k = 1; k <= GRID_PARTS; k++) {
      if (Math.abs(step * k - BLOCK_PX) < GRID_SHARE * BLOCK_PX || Math.abs(step * k - 1) < GRID_SHARE) return true;
    }
    return false;
  });
}
