import type { FollowedPrint } from './followPrint.ts';
import type { InkBand } from './inkBand.ts';
import { localShift } from './localShift.ts';

/** A comb of fewer repeats cannot be told from chance. */
const FEWEST_REPEATS = 4;
/** Harmonics looked at, and frequencies beside each one that say what chance gives, in units of 1 / (periods in view). */
const MOST_HARMONICS = 6;
const BESIDE = [-4.6, -3.7, -2.8, -1.9, 1.9, 2.8, 3.7, 4.6];
/** Log power over chance that one harmonic can be worth: shade and soil make single ones stand out. */
const LEAST = -1;
const MOST = 2.2;
/** Share of a signal's energy that chance gives one frequency at least. */
const LEAST_NOISE = 0.2;
/** What the larger of two such logs (ink and its redness) is by chance. */
const BY_CHANCE = 0.6;

/** Parts of a period that the print is summed in: frequencies looked at are below one cycle in two periods. */
const PARTS = 4;

export type LongMarks = (every: number) => number | null;

/**
 * Answers how clearly every `every`-th period of a followed print is marked out, red or longer: each 10 cm, each foot.
 * Mean log power of the ink, or of its redness, at the frequency 1 / every and its harmonics over that beside them, less
 * the same at the frequencies that only marks twice as far apart have: about 0 for chance, 2 and more for clear marks.
 * Null where too few repeats are in view.
 */
export function longMarks(band: InkBand, fit: FollowedPrint): LongMarks {
  const { columns: n, rows, valid, red } = band;
  const phaseAt = (k: number): number => {
    const u = (2 * (k + 0.5)) / n - 1;
    return (fit.perT * u) / (1 + fit.c * u) + localShift(fit, u);
  };
  const first = phaseAt(0);
  const periods = phaseAt(n - 1) - first;
  const count = Math.max(1, Math.ceil(periods * PARTS));
  const sums = [new Float32Array(count), new Float32Array(count)] as const;
  const weight = new Float32Array(count);
  // the phase bends slowly: straight between places a few columns apart
  const hop = 8;
  for (let k0 = 0; k0 < n; k0 += hop) {
    const [from, to] = [phaseAt(k0), phaseAt(Math.min(n - 1, k0 + hop))];
    for (let k = k0; k < Math.min(n, k0 + hop); k++) {
      if (!valid[k]) continue;
      const at = Math.max(0, Math.min(count - 1, ((from + ((to - from) * (k - k0)) / hop - first) * PARTS) | 0));
      let ink = 0;
      for (const row of rows) ink += row[k]!;
      sums[0][at]! += ink / rows.length;
      sums[1][at]! += red[k]!;
      weight[at]!++;
    }
  }
  return (every) => {
    if (!(periods / every >= FEWEST_REPEATS) || every < 4) return null;
    const signals = sums.map((sum) => centred(sum, weight, Math.round(1.25 * every * PARTS)));
    const standsOut = (frequency: number): number => {
      const logs = signals.map((signal) => {
        const chance = BESIDE.map((b) => power(signal, frequency + b / periods)).sort((a, b) => a - b);
        // very clean print leaves next to nothing beside it
        const least = LEAST_NOISE * signal.reduce((sum, v) => sum + v * v, 0);
        const level = Math.max(least, (chance[3]! + chance[4]!) / 2);
        return level > 0 ? Math.log(power(signal, frequency) / level) : 0;
      });
      return Math.max(LEAST, Math.min(MOST, Math.max(...logs) - BY_CHANCE));
    };
    const harmonics = Math.min(MOST_HARMONICS, Math.ceil(every / 2) - 1);
    const own = Array.from({ length: harmonics }, (_, i) => standsOut((i + 1) / every));
    const doubled = Array.from({ length: harmonics }, (_, i) => standsOut((i + 0.5) / every));
    // marks twice as near have even harmonics only
    const odd = own.filter((_, i) => i % 2 === 0);
    return Math.min(mean(own), mean(odd)) - Math.max(0, mean(doubled));
  };
}

/** Power of a signal of PARTS places a period at a frequency in cycles a period. */
function power(signal: Float32Array, frequency: number): number {
  const angle = (2 * Math.PI * frequency) / PARTS;
  // single precision: there every engine's sine and cosine round alike
  const [cos, sin] = [Math.fround(Math.cos(angle)), Math.fround(Math.sin(angle))];
  let [c, s, re, im] = [1, 0, 0, 0];
  for (let k = 0; k < signal.length; k++) {
    re += signal[k]! * c;
    im += signal[k]! * s;
    const next = c * cos - s * sin;
    s = s * cos + c * sin;
    c = next;
  }
  return re * re + im * im;
}

/** Means of places less their mean over `reach` places to either side; 0 where nothing was seen. */
function centred(sum: Float32Array, weight: Float32Array, reach: number): Float32Array {
  const n = sum.length;
  const total = new Float64Array(n + 1);
  const count = new Float64Array(n + 1);
  for (let k = 0; k < n; k++) {
    total[k + 1] = total[k]! + sum[k]!;
    count[k + 1] = count[k]! + weight[k]!;
  }
  return Float32Array.from(sum, (value, k) => {
    if (weight[k] === 0) return 0;
    const [a, b] = [Math.max(0, k - reach), Math.min(n, k + reach + 1)];
    const around = (total[b]! - total[a]!) / (count[b]! - count[a]!);
    return Math.max(-0.6, Math.min(0.6, value / weight[k]! - around));
  });
}

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;
