/** Bins of one period of print. */
export const BINS = 48;

/** One period of print as learnt so far, per row group. */
export interface PrintPattern {
  readonly groups: number;
  readonly sum: Float64Array;
  readonly weight: Float64Array;
}

export function makePattern(groups: number): PrintPattern {
  return { groups, sum: new Float64Array(groups * BINS), weight: new Float64Array(BINS) };
}

/** Adds (or with factor -1 takes away) columns from..to at their phases to a pattern, in place. */
export function addToPattern(
  pattern: PrintPattern,
  signals: readonly Float32Array[],
  valid: Uint8Array,
  phase: Float64Array,
  shift: number,
  from: number,
  to: number,
  factor: number,
): void {
  const { groups, sum, weight } = pattern;
  for (let k = from; k < to; k++) {
    if (!valid[k]) continue;
    const p = (phase[k]! + shift - Math.floor(phase[k]! + shift)) * BINS;
    const b = Math.floor(p) % BINS;
    const f = p - Math.floor(p);
    const b2 = (b + 1) % BINS;
    weight[b]! += factor * (1 - f);
    weight[b2]! += factor * f;
    for (let g = 0; g < groups; g++) {
      const x = factor * signals[g]![k]!;
      sum[g * BINS + b]! += x * (1 - f);
      sum[g * BINS + b2]! += x * f;
    }
  }
}

/** Mean print per bin, each group's mean taken out; 0 where nothing was seen. */
export function meanPattern(pattern: PrintPattern): Float64Array {
  const { groups, sum, weight } = pattern;
  const out = new Float64Array(groups * BINS);
  for (let g = 0; g < groups; g++) {
    let mean = 0;
    let count = 0;
    for (let b = 0; b < BINS; b++) {
      if (weight[b]! < 0.2) continue;
      out[g * BINS + b] = sum[g * BINS + b]! / weight[b]!;
      mean += out[g * BINS + b]!;
      count++;
    }
    mean /= Math.max(1, count);
    for (let b = 0; b < BINS; b++) out[g * BINS + b] = weight[b]! < 0.2 ? 0 : out[g * BINS + b]! - mean;
  }
  return out;
}

/** Correlation of columns from..to with a mean pattern when their phases are moved by `shift`; 0 for nothing valid. */
export function likenessAt(
  mean: Float64Array,
  groups: number,
  signals: readonly Float32Array[],
  valid: Uint8Array,
  phase: Float64Array,
  shift: number,
  from: number,
  to: number,
): number {
  let sum = 0;
  let norm = 0;
  let power = 0;
  for (let k = from; k < to; k++) {
    if (!valid[k]) continue;
    const p = (phase[k]! + shift - Math.floor(phase[k]! + shift)) * BINS;
    const b = Math.floor(p) % BINS;
    const f = p - Math.floor(p);
    const b2 = (b + 1) % BINS;
    for (let g = 0; g < groups; g++) {
      const y = mean[g * BINS + b]! * (1 - f) + mean[g * BINS + b2]! * f;
      const x = signals[g]![k]!;
      sum += y * x;
      norm += y * y;
      power += x * x;
    }
  }
  return norm > 0 && power > 0 ? sum / Math.sqrt(norm * power) : 0;
}
