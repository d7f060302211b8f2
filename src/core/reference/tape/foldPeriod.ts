import type { InkBand } from './inkBand.ts';

/** How far the print repeats at one period. */
export interface FoldedPeriod {
  /** Share of the print's power that one period, learnt from other stretches, explains. */
  readonly explained: number;
  /** `explained` less the most that the pattern shifted by a part of the period (1/2 .. 1/12) explains. */
  readonly gain: number;
}

const BINS = 60;
const PARTS = [2, 3, 4, 5, 6, 8, 10, 12] as const;

/**
 * Folds the print at `perT` cycles per unit of t and compares the period learnt from even stretches with that learnt
 * from odd ones, so that chance explains nothing on average. A period that is a multiple of the true one explains as much
 * when shifted by a part of itself: its gain is small, and the true period is the one of greatest gain.
 */
export function foldPeriod(band: InkBand, signals: readonly Float32Array[], c: number, perT: number): FoldedPeriod {
  const n = band.columns;
  const G = signals.length;
  const folded = [0, 1].map(() => ({ sum: new Float64Array(G * BINS), weight: new Float64Array(BINS) }));
  let power = 0;
  let valid = 0;
  for (let k = 0; k < n; k++) {
    if (!band.valid[k]) continue;
    const u = (2 * (k + 0.5)) / n - 1;
    const phase = (perT * u) / (1 + c * u);
    const whole = Math.floor(phase);
    // stretches of three periods take turns
    const into = folded[Math.abs(Math.floor(whole / 3)) & 1]!;
    const p = (phase - whole) * BINS;
    const b = Math.floor(p) % BINS;
    const f = p - Math.floor(p);
    const b2 = (b + 1) % BINS;
    into.weight[b]! += 1 - f;
    into.weight[b2]! += f;
    for (let g = 0; g < G; g++) {
      const x = signals[g]![k]!;
      into.sum[g * BINS + b]! += x * (1 - f);
      into.sum[g * BINS + b2]! += x * f;
      power += x * x;
    }
    valid++;
  }
  if (valid === 0 || power === 0) return { explained: 0, gain: 0 };
  const [one, two] = folded.map(({ sum, weight }) => {
    const out = new Float64Array(G * BINS);
    for (let g = 0; g < G; g++) {
      let mean = 0;
      for (let b = 0; b < BINS; b++) {
        out[g * BINS + b] = weight[b]! > 0.3 ? sum[g * BINS + b]! / weight[b]! : 0;
        mean += out[g * BINS + b]! / BINS;
      }
      for (let b = 0; b < BINS; b++) if (weight[b]! > 0.3) out[g * BINS + b]! -= mean;
    }
    return out;
  }) as [Float64Array, Float64Array];
  const share = (shift: number): number => {
    let sum = 0;
    for (let g = 0; g < G; g++) {
      for (let b = 0; b < BINS; b++) sum += one[g * BINS + b]! * two[g * BINS + ((b + shift + BINS) % BINS)]!;
    }
    return sum / BINS / (power / valid);
  };
  const explained = share(0);
  let other = Number.NEGATIVE_INFINITY;
  for (const m of PARTS) {
    for (let j = 1; j < m; j++) {
      const at = Math.round((j * BINS) / m);
      // neighbours of no shift are the same tick again when the print is blurred
      if (at < 5 || at > BINS - 5) continue;
      other = Math.max(other, share(at));
    }
  }
  return { explained, gain: explained - Math.max(0, other) };
}
