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

/**
 * Correlation of columns from..to with a mean pattern, 0 for nothing valid: when their phases are moved by `shift`, and
 * again `count - 1` times by `stride` bins more. A bin more takes each column one bin on, so the columns are summed into
 * bins once and those compared: a column's place in the pattern lies between two bins, so its square needs their squares
 * and their product.
 */
export function likenesses(
  mean: Float64Array,
  groups: number,
  signals: readonly Float32Array[],
  valid: Uint8Array,
  phase: Float64Array,
  shift: number,
  from: number,
  to: number,
  count: number,
  stride: number,
): Float64Array {
  const print = new Float64Array(groups * BINS);
  const squares = new Float64Array(BINS);
  const products = new Float64Array(BINS);
  let power = 0;
  for (let k = from; k < to; k++) {
    if (!valid[k]) continue;
    const t = phase[k]! + shift;
    const p = (t - Math.floor(t)) * BINS;
    const b = Math.floor(p) % BINS;
    const f = p - Math.floor(p);
    const b2 = (b + 1) % BINS;
    squares[b]! += (1 - f) * (1 - f);
    squares[b2]! += f * f;
    products[b]! += 2 * f * (1 - f);
    for (let g = 0; g < groups; g++) {
      const x = signals[g]![k]!;
      power += x * x;
      print[g * BINS + b]! += x * (1 - f);
      print[g * BINS + b2]! += x * f;
    }
  }
  const meanSquares = new Float64Array(BINS);
  const meanProducts = new Float64Array(BINS);
  for (let g = 0; g < groups; g++) {
    for (let b = 0; b < BINS; b++) {
      const m = mean[g * BINS + b]!;
      meanSquares[b]! += m * m;
      meanProducts[b]! += m * mean[g * BINS + ((b + 1) % BINS)]!;
    }
  }
  const out = new Float64Array(count);
  for (let j = 0; j < count; j++) {
    const moved = (j * stride) % BINS;
    let sum = 0;
    let norm = 0;
    for (let b = 0, m = moved; b < BINS; b++, m = m + 1 === BINS ? 0 : m + 1) {
      norm += squares[b]! * meanSquares[m]! + products[b]! * meanProducts[m]!;
      for (let g = 0; g < groups; g++) sum += print[g * BINS + b]! * mean[g * BINS + m]!;
    }
    out[j] = norm > 0 && power > 0 ? sum / Math.sqrt(norm * power) : 0;
  }
  return out;
}
