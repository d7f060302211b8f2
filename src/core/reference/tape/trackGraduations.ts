import { median } from '../line/contrastDirection.ts';
import { solveLeastSquares } from '../line/solveLeastSquares.ts';
import type { InkBand } from './inkBand.ts';

/** reading (in periods) = perT * t + offset, t = u / (1 + c u), u = -1 .. 1 over the band. */
export interface GraduationFit {
  readonly c: number;
  readonly perT: number;
  readonly offset: number;
  /** Mean likeness (correlation) of stretches with the pattern learnt from the other stretches. */
  readonly likeness: number;
  /** The same with the pattern half a period off: what chance and slow changes give. */
  readonly unlikeness: number;
  /** Share of the stretches that agree with the fit. */
  readonly agreeing: number;
  /** Robust spread of the stretches' places about the fit, periods. */
  readonly spread: number;
  /** Expected error (1 sd) of the number of periods end to end. */
  readonly lengthSdPeriods: number;
  readonly windows: readonly { readonly u: number; readonly shift: number; readonly good: boolean }[];
}

const BINS = 48;

/**
 * Follows an even pattern along the band: learns one period of the print (all rows) by folding, slides each short
 * stretch against the pattern learnt from the other half of the stretches, and fits the projective map of readings to
 * those places robustly; repeated as the map sharpens the pattern. Returns null when too little can be followed.
 */
export function trackGraduations(
  band: InkBand,
  signals: readonly Float32Array[],
  c0: number,
  perT0: number,
): GraduationFit | null {
  let c = c0;
  let perT = perT0;
  let fit: GraduationFit | null = null;
  for (let pass = 0; pass < 5; pass++) {
    const windows = slide(band, signals, c, perT, pass === 0 ? 0.35 : 0.25);
    if (windows === null) return fit;
    const solved = fitShifts(windows, c, perT);
    if (solved === null) return fit;
    c = solved.c;
    perT = solved.perT;
    fit = solved;
    if (!(Math.abs(c) < 0.9) || !(perT > 0)) return null;
  }
  return fit;
}

interface Window {
  readonly u: number;
  readonly t: number;
  readonly shift: number;
  readonly likeness: number;
  readonly off: number;
}

function slide(
  band: InkBand,
  signals: readonly Float32Array[],
  c: number,
  perT: number,
  reach: number,
): Window[] | null {
  const n = band.columns;
  const phase = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    const u = (2 * (k + 0.5)) / n - 1;
    phase[k] = (perT * u) / (1 + c * u);
  }
  const periods = phase[n - 1]! - phase[0]!;
  const count = Math.min(36, Math.floor(n / 24), Math.floor(periods / 2));
  if (count < 4) return null;
  const G = signals.length;
  const starts = Array.from({ length: count + 1 }, (_, i) => Math.round((i * n) / count));
  const folded = [0, 1].map(() => ({ sum: new Float64Array(G * BINS), weight: new Float64Array(G * BINS) }));
  for (let i = 0; i < count; i++) {
    const into = folded[i & 1]!;
    for (let k = starts[i]!; k < starts[i + 1]!; k++) {
      if (!band.valid[k]) continue;
      const p = (phase[k]! - Math.floor(phase[k]!)) * BINS;
      const b = Math.floor(p) % BINS;
      const f = p - Math.floor(p);
      const b2 = (b + 1) % BINS;
      for (let g = 0; g < G; g++) {
        const x = signals[g]![k]!;
        into.sum[g * BINS + b]! += x * (1 - f);
        into.weight[g * BINS + b]! += 1 - f;
        into.sum[g * BINS + b2]! += x * f;
        into.weight[g * BINS + b2]! += f;
      }
    }
  }
  const patterns = folded.map(({ sum, weight }) => pattern(sum, weight, G));
  const windows: Window[] = [];
  const steps = 2 * Math.round(reach * BINS) + 1;
  for (let i = 0; i < count; i++) {
    const from = starts[i]!;
    const to = starts[i + 1]!;
    const other = patterns[1 - (i & 1)]!;
    let valid = 0;
    let power = 0;
    for (let k = from; k < to; k++) {
      if (!band.valid[k]) continue;
      valid++;
      for (let g = 0; g < G; g++) power += signals[g]![k]! ** 2;
    }
    if (valid < 0.35 * (to - from) || power <= 0) continue;
    const score = (shift: number): number => {
      let sum = 0;
      let norm = 0;
      for (let k = from; k < to; k++) {
        if (!band.valid[k]) continue;
        const p = (phase[k]! + shift - Math.floor(phase[k]! + shift)) * BINS;
        const b = Math.floor(p) % BINS;
        const f = p - Math.floor(p);
        const b2 = (b + 1) % BINS;
        for (let g = 0; g < G; g++) {
          const y = other[g * BINS + b]! * (1 - f) + other[g * BINS + b2]! * f;
          sum += y * signals[g]![k]!;
          norm += y * y;
        }
      }
      return norm > 0 ? sum / Math.sqrt(norm * power) : 0;
    };
    const values = Array.from({ length: steps }, (_, j) => score((j - (steps - 1) / 2) / BINS));
    let top = 0;
    for (let j = 1; j < steps; j++) if (values[j]! > values[top]!) top = j;
    const a = values[top - 1];
    const b = values[top + 1];
    let exact = top;
    if (a !== undefined && b !== undefined) {
      const bend = a - 2 * values[top]! + b;
      if (bend < 0) exact += (0.5 * (a - b)) / bend;
    }
    const mid = (from + to) / 2;
    const u = (2 * mid) / n - 1;
    windows.push({
      u,
      t: u / (1 + c * u),
      shift: (exact - (steps - 1) / 2) / BINS,
      likeness: score(0),
      off: score(0.5),
    });
  }
  return windows.length < 4 ? null : windows;
}

/** One period of print, each group's mean taken out, empty bins 0. */
function pattern(sum: Float64Array, weight: Float64Array, groups: number): Float64Array {
  const out = new Float64Array(groups * BINS);
  for (let g = 0; g < groups; g++) {
    let mean = 0;
    let count = 0;
    for (let b = 0; b < BINS; b++) {
      const w = weight[g * BINS + b]!;
      if (w < 0.2) continue;
      out[g * BINS + b] = sum[g * BINS + b]! / w;
      mean += out[g * BINS + b]!;
      count++;
    }
    mean /= Math.max(1, count);
    for (let b = 0; b < BINS; b++) out[g * BINS + b] = weight[g * BINS + b]! < 0.2 ? 0 : out[g * BINS + b]! - mean;
  }
  return out;
}

function fitShifts(windows: readonly Window[], c: number, perT: number): GraduationFit | null {
  // a stretch found `shift` late reads that much more; a change of c moves readings by -perT t^2
  const rows = windows.map((w) => [1, w.t, w.t * w.t]);
  const values = windows.map((w) => w.shift);
  let weights = windows.map((w) => Math.max(0.01, w.likeness));
  let params: number[] | null = null;
  let spread = 0.1;
  for (let pass = 0; pass < 8; pass++) {
    params = solveLeastSquares(rows, values, weights);
    if (params === null) return null;
    const residuals = rows.map((r, i) => values[i]! - (params![0]! + params![1]! * r[1]! + params![2]! * r[2]!));
    spread = Math.max(0.002, 1.4826 * median(residuals.map(Math.abs)));
    weights = residuals.map((r, i) => {
      const x = r / (4.685 * spread);
      return Math.abs(x) < 1 ? (1 - x * x) ** 2 * Math.max(0.02, windows[i]!.likeness) : 0;
    });
  }
  if (params === null) return null;
  const [p0, p1, p2] = params as [number, number, number];
  const good = weights.map((w) => w > 0.01);
  const agreeing = windows.filter((w) => Math.abs(w.shift - (p0 + p1 * w.t + p2 * w.t * w.t)) < 0.12).length;
  const first = windows[0]!.t;
  const last = windows[windows.length - 1]!.t;
  return {
    c: c - p2 / perT,
    perT: perT + p1,
    offset: p0,
    likeness: windows.reduce((sum, w) => sum + w.likeness, 0) / windows.length,
    unlikeness: windows.reduce((sum, w) => sum + w.off, 0) / windows.length,
    agreeing: agreeing / windows.length,
    spread,
    lengthSdPeriods: endToEndSd(rows, weights, spread, first, last),
    windows: windows.map((w, i) => ({ u: w.u, shift: w.shift, good: good[i]! })),
  };
}

/** Formal error of reading(last) - reading(first) of the fit, from the normal equations by unit loads. */
function endToEndSd(
  rows: readonly (readonly number[])[],
  weights: readonly number[],
  spread: number,
  first: number,
  last: number,
): number {
  const load = [0, last - first, last * last - first * first];
  const top = Math.max(...weights);
  // solve N x = load through the damped square system
  const n = [0, 1, 2].map((i) =>
    [0, 1, 2].map((j) => rows.reduce((sum, r, k) => sum + (weights[k]! / top) * r[i]! * r[j]!, 0)),
  );
  const x = solveLeastSquares(n, load, null);
  if (x === null) return Number.POSITIVE_INFINITY;
  return (
    spread *
    Math.sqrt(
      Math.max(
        0,
        load.reduce((sum, l, i) => sum + l * x[i]!, 0),
      ),
    )
  );
}
