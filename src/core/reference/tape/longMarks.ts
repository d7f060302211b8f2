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
  const known = new Map<number, number>();
  return (every) => {
    if (!(periods / every >= FEWEST_REPEATS) || every < 4) return null;
    if (!known.has(every)) known.set(every, standing(every));
    return known.get(every)!;
  };

  function standing(every: number): number {
    const signals = sums.map((sum) => centred(sum, weight, Math.round(1.25 * every * PARTS)));
    // very clean print leaves next to nothing beside it
    const least = signals.map((signal) => LEAST_NOISE * signal.reduce((sum, v) => sum + v * v, 0));
    const standsOut = (frequency: number): number => {
      const logs = signals.map((signal, i) => {
        const [own, ...beside] = powers(signal, [frequency, ...BESIDE.map((b) => frequency + b / periods)]);
        const chance = beside.sort((a, b) => a - b);
        const level = Math.max(least[i]!, (chance[3]! + chance[4]!) / 2);
        return level > 0 ? Math.log(own! / level) : 0;
      });
      return Math.max(LEAST, Math.min(MOST, Math.max(...logs) - BY_CHANCE));
    };
    const harmonics = Math.min(MOST_HARMONICS, Math.ceil(every / 2) - 1);
    const own = Array.from({ length: harmonics }, (_, i) => standsOut((i + 1) / every));
    const doubled = Array.from({ length: harmonics }, (_, i) => standsOut((i + 0.5) / every));
    // marks twice as near have even harmonics only
    const odd = own.filter((_, i) => i % 2 === 0);
    return Math.min(mean(own), mean(odd)) - Math.max(0, mean(doubled));
  }
}

/**
 * Powers of a signal of PARTS places a period at frequencies in cycles a period, three at a time: each alone would wait
 * for its own last step.
 */
function powers(signal: Float32Array, frequencies: readonly number[]): number[] {
  const angles = frequencies.map((f) => (2 * Math.PI * f) / PARTS);
  // single precision: there every engine's sine and cosine round alike
  const cos = Float32Array.from(angles, Math.cos);
  const sin = Float32Array.from(angles, Math.sin);
  const out: number[] = [];
  for (let i = 0; i < frequencies.length; i += 3) {
    const j = Math.min(i + 1, frequencies.length - 1);
    const k = Math.min(i + 2, frequencies.length - 1);
    const [cosA, sinA, cosB, sinB, cosC, sinC] = [cos[i]!, sin[i]!, cos[j]!, sin[j]!, cos[k]!, sin[k]!];
    let [a, b, c, reA, reB, reC] = [1, 1, 1, 0, 0, 0];
    let [s, t, u, imA, imB, imC] = [0, 0, 0, 0, 0, 0];
    for (let p = 0; p < signal.length; p++) {
      const v = signal[p]!;
      reA += v * a;
      imA += v * s;
      reB += v * b;
      imB += v * t;
      reC += v * c;
      imC += v * u;
      const nextA = a * cosA - s * sinA;
      s = s * cosA + a * sinA;
      a = nextA;
      const nextB = b * cosB - t * sinB;
      t = t * cosB + b * sinB;
      b = nextB;
      const nextC = c * cosC - u * sinC;
      u = u * cosC + c * sinC;
      c = nextC;
    }
    out.push(reA * reA + imA * imA, reB * reB + imB * imB, reC * reC + imC * imC);
  }
  return out.slice(0, frequencies.length);
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
