import { square } from '../../statistics/square.ts';
import { SPECTRUM_SIZE, spectra } from './spectra.ts';

/** Local frequency may depart so far (as a ratio's log) from the smooth curve, in steps of so much. */
const REACH = 0.24;
const STEP = 0.0075;
/** Cost of a step between stretches half overlapping, in units of the spectra's log power, and of being off the curve. */
const CHANGE_COST = 0.012;
const OFF_COST = 0.0006;

/**
 * How the local frequency of an even print wanders about the smooth curve that (perT, c) imply: where a tape lies over
 * clods and is seen along itself, each rise and fall changes its foreshortening by a tenth or more, and the smooth curve
 * follows the commonest slope, not the mean. The best path through the spectra of short stretches (Viterbi 1967).
 * Returns the phase, in periods, at each column: 0 at the middle of the band. Null where there are too few stretches.
 */
export function trackPeriods(signals: readonly Float32Array[], c: number, perT: number): Float64Array | null {
  const n = signals[0]!.length;
  const meanPeriod = n / (perT * (1 / (1 + c) + 1 / (1 - c)));
  const length = Math.max(40, Math.min(SPECTRUM_SIZE, Math.round(9 * meanPeriod)));
  const windows = spectra(signals, length);
  if (windows.length < 4) return null;
  const side = Math.round(REACH / STEP);
  const states = 2 * side + 1;
  const gains = windows.map(({ u, log }) => {
    const smooth = ((perT * 2) / n / square(1 + c * u)) * SPECTRUM_SIZE;
    return Float64Array.from({ length: states }, (_, j) => {
      const f = smooth * Math.exp((j - side) * STEP);
      let sum = 0;
      let terms = 0;
      for (let k = 1; k <= 6 && k * f <= 0.44 * SPECTRUM_SIZE; k++) {
        const at = Math.floor(k * f);
        sum += log[at]! + (k * f - at) * (log[at + 1]! - log[at]!);
        terms++;
      }
      return (terms === 0 ? 0 : sum / Math.sqrt(terms)) - OFF_COST * square(j - side);
    });
  });
  const path = bestPath(gains, states);
  const ratios = path.map((j) => Math.exp((j - side) * STEP));
  return integrated(
    n,
    windows.map((w) => w.u),
    ratios,
    (u) => (perT * 2) / n / square(1 + c * u),
  );
}

function bestPath(gains: readonly Float64Array[], states: number): number[] {
  let total = gains[0]!;
  const from: Int16Array[] = [];
  for (let i = 1; i < gains.length; i++) {
    const next = new Float64Array(states);
    const back = new Int16Array(states);
    for (let j = 0; j < states; j++) {
      let best = Number.NEGATIVE_INFINITY;
      for (let k = Math.max(0, j - 16); k <= Math.min(states - 1, j + 16); k++) {
        const value = total[k]! - CHANGE_COST * square(j - k);
        if (value > best) {
          best = value;
          back[j] = k;
        }
      }
      next[j] = best + gains[i]![j]!;
    }
    from.push(back);
    total = next;
  }
  let at = total.reduce((best, v, j) => (v > total[best]! ? j : best), 0);
  const path = [at];
  for (let i = from.length - 1; i >= 0; i--) {
    at = from[i]![at]!;
    path.unshift(at);
  }
  return path;
}

/** Sum of the smooth frequency times the ratio (linear between stretches, held beyond the outermost). */
function integrated(
  n: number,
  us: readonly number[],
  ratios: readonly number[],
  smooth: (u: number) => number,
): Float64Array {
  const phase = new Float64Array(n);
  let i = 0;
  let sum = 0;
  for (let k = 0; k < n; k++) {
    const u = (2 * (k + 0.5)) / n - 1;
    while (i + 2 < us.length && us[i + 1]! < u) i++;
    const t = Math.max(0, Math.min(1, (u - us[i]!) / (us[i + 1]! - us[i]!)));
    const step = smooth(u) * (ratios[i]! + t * (ratios[i + 1]! - ratios[i]!));
    sum += step / 2;
    phase[k] = sum;
    sum += step / 2;
  }
  const middle = phase[n >> 1]!;
  for (let k = 0; k < n; k++) phase[k]! -= middle;
  return phase;
}
