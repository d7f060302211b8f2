import { type LineSpectrum, lineSpectrum, whitened } from './lineSpectrum.ts';

/** An even pattern along the ribbon: cycles per unit of t and the strength of its harmonics. */
export interface Comb {
  readonly c: number;
  readonly groups: readonly number[];
  /** Cycles per unit of straightened place t. */
  readonly perT: number;
  /** Log evidence over noise, summed over harmonics. */
  readonly evidence: number;
  /** ln of the whitened strength of harmonic k at index k (index 0 unused); NaN beyond what is resolved. */
  readonly harmonics: readonly number[];
  readonly periods: number;
}

const CAP = 5;
const PER_LINE = 0.9;

/** The foreshortening c near `guess` (within `reach`) at which the print is most even, and its spectrum. */
export function evenestForeshortening(
  signals: readonly Float32Array[],
  guess: number,
  reach: number,
): { spectrum: LineSpectrum; sharpness: number } {
  const n = signals[0]!.length;
  const samplesFor = (c: number): number => Math.min(16384, Math.ceil((n * (1 + Math.abs(c))) / (1 - Math.abs(c))));
  // one size for all trials, so that they compare
  const size = 2 ** Math.ceil(Math.log2(samplesFor(Math.min(0.85, Math.abs(guess) + reach))));
  const samplesAll = samplesFor(Math.min(0.85, Math.abs(guess) + reach));
  const sharpness = (c: number): number => {
    const spectrum = lineSpectrum(signals, c, samplesAll, size);
    const z = whitened(spectrum, [0, 1, 2, 3]);
    let sum = 0;
    for (let k = 4; k < 0.46 * size; k++) {
      const v = Math.min(z[k]!, 150);
      sum += v * Math.sqrt(v);
    }
    return sum / (size / 2);
  };
  const clampC = (c: number): number => Math.max(-0.85, Math.min(0.85, c));
  // at the ends of the ribbon a wrong c shifts the print by about c n / 4 columns
  const step = Math.max(0.001, 8 / n);
  let best = { c: clampC(guess), value: Number.NEGATIVE_INFINITY };
  const around = (centre: number, from: number, by: number): void => {
    for (let d = -from; d <= from + 1e-9; d += by) {
      const c = clampC(centre + d);
      const value = sharpness(c);
      if (value > best.value) best = { c, value };
    }
  };
  around(guess, reach, step);
  around(best.c, step * 0.75, step / 4);
  around(best.c, step / 6, step / 12);
  return { spectrum: lineSpectrum(signals, best.c, samplesAll, 2 * size), sharpness: best.value };
}

/** The fundamentals that explain the lines of a spectrum best, strongest first, apart from one another. */
export function findCombs(spectrum: LineSpectrum, groups: readonly number[], most: number): Comb[] {
  const z = whitened(spectrum, groups);
  const { size, samples, stepT, c } = spectrum;
  const pad = size / samples;
  const last = Math.floor(0.46 * size);
  const peaks: { bin: number; value: number }[] = [];
  for (let k = Math.ceil(4 * pad); k < last; k++) {
    if (z[k]! > 8 && z[k]! >= z[k - 1]! && z[k]! > z[k + 1]!) peaks.push({ bin: k, value: z[k]! });
  }
  peaks.sort((a, b) => b.value - a.value);
  const combs: (Comb & { bin: number })[] = [];
  for (const peak of peaks.slice(0, 16)) {
    const a = z[peak.bin - 1]!;
    const b = z[peak.bin + 1]!;
    const bend = a - 2 * peak.value + b;
    const exact = peak.bin + (bend < -1e-6 ? (0.5 * (a - b)) / bend : 0);
    for (let d = 1; d <= 20; d++) {
      const base = exact / d;
      if (base / pad < 5) break;
      if (combs.some((x) => Math.abs(x.bin / base - 1) < 0.4 / (base / pad))) continue;
      const comb = evaluate(z, base, last, pad);
      if (comb !== null) {
        combs.push({
          c,
          groups,
          perT: comb.base / (size * stepT),
          evidence: comb.evidence,
          harmonics: comb.harmonics,
          periods: comb.base / pad,
          bin: comb.base,
        });
      }
    }
  }
  combs.sort((x, y) => y.evidence - x.evidence);
  return combs.slice(0, most);
}

function evaluate(z: Float32Array, start: number, last: number, pad: number) {
  let base = start;
  let sumFk = 0;
  let sumKk = 0;
  let evidence = 0;
  const harmonics: number[] = [Number.NaN];
  const reach = Math.max(1, Math.round(0.8 * pad));
  const most = Math.min(64, Math.floor((last - 2) / base));
  for (let k = 1; k <= most; k++) {
    const at = Math.round(k * base);
    if (at + reach >= z.length) break;
    let top = 0;
    let place = at;
    for (let j = at - reach; j <= at + reach; j++) {
      if (z[j]! > top) {
        top = z[j]!;
        place = j;
      }
    }
    const strength = Math.log(Math.max(0.05, top));
    harmonics.push(strength);
    evidence += Math.min(CAP, strength) - PER_LINE;
    if (top > 6) {
      const a = z[place - 1]!;
      const b = z[place + 1]!;
      const bend = a - 2 * top + b;
      const exact = place + (bend < -1e-6 ? Math.max(-0.5, Math.min(0.5, (0.5 * (a - b)) / bend)) : 0);
      const weight = Math.min(top, 60);
      sumFk += weight * exact * k;
      sumKk += weight * k * k;
      base = sumFk / sumKk;
    }
  }
  return Number.isFinite(base) && base > 0 ? { base, evidence, harmonics } : null;
}
