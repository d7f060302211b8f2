import { type CoherentShift, coherentShift } from './coherentShift.ts';
import type { InkBand } from './inkBand.ts';
import { patternLean } from './patternLean.ts';
import { addToPattern, BINS, likenesses, makePattern, meanPattern, type PrintPattern } from './printPattern.ts';
import { projectiveFit } from './projectiveFit.ts';

/** reading (in periods) = perT * t + offset + local shift, t = u / (1 + c u), u = -1 .. 1 over the band. */
export interface FollowedPrint {
  readonly c: number;
  readonly perT: number;
  readonly offset: number;
  /** Mean likeness (correlation) of stretches with the pattern learnt from the others. */
  readonly likeness: number;
  /** `likeness` less the best that the pattern moved by a part of a period reaches: small for a multiple of the period. */
  readonly gain: number;
  /** Inch-like (positive) or centimetre-like (negative) division of one period. */
  readonly lean: number;
  /** Share of the stretches that could be followed. */
  readonly agreeing: number;
  /** False when its phase could not be held: its places then come from local periods alone. */
  readonly followed: boolean;
  /** Robust spread of the places about the projective fit, periods: relief under the tape, and error. */
  readonly spread: number;
  /** Expected error (1 sd) of the number of periods end to end. */
  readonly lengthSdPeriods: number;
  /** Readings in periods at stretches that could be followed. */
  readonly places: readonly { readonly u: number; readonly reading: number }[];
}

const FOLLOWED = 0.2;
/** Marks nearer to one another melt into an even grey: what seems to be print there is chance. */
export const RESOLVED_PX = 3.2;
/** How far the map of all stretches together may lie from the one given, as shares of perT. */
const SLOPE_REACH = 0.02;
const BEND_REACH = 0.02;

/**
 * Follows print along the band like a phase-locked loop: starts where it is most even, matches each next stretch with the
 * pattern learnt so far near where the last one leads to expect it, and learns from it; then once more over all stretches
 * with each left out of the pattern it is matched with. Places may wander (relief under the tape); a projective map is
 * fitted to them robustly.
 *
 * @param together whether to end with one search over all stretches at once (`coherentShift`), those left out in which
 * marks are not resolved: slower, and steadier where print is faint
 * @param phase periods at each column to start from, when more is known of it than the map (c, perT) gives
 */
export function followPrint(
  band: InkBand,
  signals: readonly Float32Array[],
  c: number,
  perT: number,
  together = false,
  phase: Float64Array = smoothPhase(band.columns, c, perT),
): FollowedPrint | null {
  const n = band.columns;
  const G = signals.length;
  const periods = phase[n - 1]! - phase[0]!;
  if (periods < 6) return null;
  const edges = stretches(phase, n, Math.max(3, Math.min(8, periods / 12)));
  const count = edges.length - 1;
  if (count < 4) return null;
  const covered = Array.from({ length: count }, (_, i) => {
    let valid = 0;
    for (let k = edges[i]!; k < edges[i + 1]!; k++) valid += band.valid[k]!;
    const columns = edges[i + 1]! - edges[i]!;
    const perPeriod = columns / (phase[edges[i + 1]! - 1]! - phase[edges[i]!]! + 1e-9);
    return valid < 0.4 * columns || (together && perPeriod < RESOLVED_PX);
  });
  let pattern = makePattern(G);
  let shifts = new Float64Array(count).fill(Number.NaN);
  let likes = new Float64Array(count);
  let top = Number.NEGATIVE_INFINITY;
  for (const start of starts(band, signals, phase, edges, 3)) {
    const tried = outwards(start);
    const value = tried.likes.reduce((sum, l) => sum + (l >= FOLLOWED ? l : 0), 0);
    if (value <= top) continue;
    top = value;
    ({ pattern, shifts, likes } = tried);
  }
  for (let pass = 0; pass < 2; pass++) {
    for (let i = 0; i < count; i++) {
      if (Number.isNaN(shifts[i]!)) continue;
      addToPattern(pattern, signals, band.valid, phase, shifts[i]!, edges[i]!, edges[i + 1]!, -1);
      const best = match(meanPattern(pattern), G, band, signals, phase, edges[i]!, edges[i + 1]!, shifts[i]!, 0.15);
      likes[i] = best.likeness;
      shifts[i] = best.likeness < FOLLOWED ? Number.NaN : best.shift;
      if (best.likeness >= FOLLOWED) {
        addToPattern(pattern, signals, band.valid, phase, best.shift, edges[i]!, edges[i + 1]!, 1);
      }
    }
  }
  if (together) {
    pattern = finest();
    for (let round = 0; round < 2; round++) {
      const shift = coherent();
      if (shift === null) return null;
      relearn(shift);
    }
  }
  return summary();

  /** The pattern of the half of the stretches on which a period covers most pixels: a slip is least likely there. */
  function finest(): PrintPattern {
    const followed = Array.from({ length: count }, (_, i) => i).filter((i) => !Number.isNaN(shifts[i]!));
    const columns = (i: number): number =>
      (edges[i + 1]! - edges[i]!) / (phase[edges[i + 1]! - 1]! - phase[edges[i]!]!);
    const learnt = makePattern(G);
    for (const i of followed.sort((a, b) => columns(b) - columns(a)).slice(0, Math.ceil(followed.length / 2))) {
      addToPattern(learnt, signals, band.valid, phase, shifts[i]!, edges[i]!, edges[i + 1]!, 1);
    }
    return learnt;
  }

  function coherent(): CoherentShift | null {
    const mean = meanPattern(pattern);
    const profiles = [];
    for (let i = 0; i < count; i++) {
      if (covered[i]) continue;
      const [from, to] = [edges[i]!, edges[i + 1]!];
      const likeness = likenesses(mean, G, signals, band.valid, phase, 0, from, to, BINS / 2, 2);
      profiles.push({ t: placeOf(i), columns: to - from, likeness });
    }
    return coherentShift(profiles, SLOPE_REACH * perT, BEND_REACH * perT);
  }

  function placeOf(i: number): number {
    const u = (edges[i]! + edges[i + 1]!) / n - 1;
    return u / (1 + c * u);
  }

  function relearn({ offset, slope, bend }: CoherentShift): void {
    const mean = meanPattern(pattern);
    const learnt = makePattern(G);
    for (let i = 0; i < count; i++) {
      if (covered[i]) continue;
      const t = placeOf(i);
      const expected = offset + slope * t + bend * t * t;
      const best = match(mean, G, band, signals, phase, edges[i]!, edges[i + 1]!, expected, 0.32);
      likes[i] = best.likeness;
      shifts[i] = best.likeness < FOLLOWED ? Number.NaN : best.shift;
      if (best.likeness >= FOLLOWED)
        addToPattern(learnt, signals, band.valid, phase, best.shift, edges[i]!, edges[i + 1]!, 1);
    }
    pattern = learnt;
  }

  function outwards(start: number) {
    const learnt = makePattern(G);
    const at = new Float64Array(count).fill(Number.NaN);
    const like = new Float64Array(count);
    for (let i = start; i < Math.min(count, start + 2); i++) {
      addToPattern(learnt, signals, band.valid, phase, 0, edges[i]!, edges[i + 1]!, 1);
      at[i] = 0;
      like[i] = FOLLOWED;
    }
    // first one way, then the other
    for (const way of [1, -1] as const) {
      let last = 0;
      let drift = 0;
      for (let i = way > 0 ? start + 2 : start - 1; i >= 0 && i < count; i += way) {
        if (covered[i]) continue;
        const best = match(meanPattern(learnt), G, band, signals, phase, edges[i]!, edges[i + 1]!, last + drift, 0.32);
        like[i] = best.likeness;
        if (best.likeness < FOLLOWED) continue;
        drift = 0.6 * drift + 0.4 * Math.max(-0.2, Math.min(0.2, best.shift - last));
        last = best.shift;
        at[i] = best.shift;
        addToPattern(learnt, signals, band.valid, phase, best.shift, edges[i]!, edges[i + 1]!, 1);
      }
    }
    return { pattern: learnt, shifts: at, likes: like };
  }

  function summary(): FollowedPrint | null {
    const good: { u: number; reading: number; shift: number; likeness: number }[] = [];
    let open = 0;
    let likeness = 0;
    const mean = meanPattern(pattern);
    const parts = new Float64Array(BINS);
    for (let i = 0; i < count; i++) {
      if (covered[i]) continue;
      open++;
      likeness += likes[i]!;
      if (Number.isNaN(shifts[i]!)) continue;
      const u = (edges[i]! + edges[i + 1]!) / n - 1;
      const at = (edges[i]! + edges[i + 1]! - 1) / 2;
      const reading = (phase[Math.floor(at)]! + phase[Math.ceil(at)]!) / 2 + shifts[i]!;
      good.push({ u, reading, shift: shifts[i]!, likeness: likes[i]! });
      const [from, to] = [edges[i]!, edges[i + 1]!];
      const moved = likenesses(mean, G, signals, band.valid, phase, shifts[i]! + 4 / BINS, from, to, BINS / 2 - 3, 2);
      for (let j = 0; j < moved.length; j++) parts[4 + 2 * j]! += moved[j]!;
    }
    if (good.length < 4 || open === 0) return null;
    const own = good.reduce((sum, w) => sum + w.likeness, 0) / good.length;
    let other = 0;
    for (const m of [2, 3, 4, 5, 6, 8, 10, 12]) {
      for (let j = 1; j < m; j++) {
        const b = 2 * Math.round((j * BINS) / m / 2);
        if (b >= 6 && b <= BINS - 6) other = Math.max(other, parts[b]! / good.length);
      }
    }
    const places = good.map((w) => ({ u: w.u, reading: w.reading, weight: w.likeness }));
    const fit = projectiveFit(places, c, perT);
    if (fit === null) return null;
    return {
      ...fit,
      likeness: likeness / open,
      gain: own - other,
      lean: patternLean(mean, G, n / periods),
      agreeing: good.length / open,
      followed: true,
      places,
    };
  }
}

/** The phase that a projective map gives each column, periods. */
function smoothPhase(columns: number, c: number, perT: number): Float64Array {
  return Float64Array.from({ length: columns }, (_, k) => {
    const u = (2 * (k + 0.5)) / columns - 1;
    return (perT * u) / (1 + c * u);
  });
}

/** Column limits of stretches of about `size` periods, none shorter than 20 columns. */
function stretches(phase: Float64Array, n: number, size: number): number[] {
  const edges = [0];
  for (let k = 1; k < n; k++) {
    const from = edges[edges.length - 1]!;
    if (k - from >= 20 && phase[k]! - phase[from]! >= size) edges.push(k);
  }
  if (n - edges[edges.length - 1]! > 12) edges.push(n);
  return edges;
}

/** Pairs of neighbouring stretches whose print agrees best with the next two, apart from one another. */
function starts(
  band: InkBand,
  signals: readonly Float32Array[],
  phase: Float64Array,
  edges: readonly number[],
  most: number,
): number[] {
  const G = signals.length;
  const values: { i: number; value: number }[] = [];
  for (let i = 0; i + 3 < edges.length; i++) {
    const one = makePattern(G);
    addToPattern(one, signals, band.valid, phase, 0, edges[i]!, edges[i + 1]!, 1);
    const [value] = likenesses(meanPattern(one), G, signals, band.valid, phase, 0, edges[i + 1]!, edges[i + 2]!, 1, 1);
    values.push({ i, value: value! });
  }
  values.sort((a, b) => b.value - a.value);
  const kept: number[] = [];
  for (const { i } of values) {
    if (kept.every((k) => Math.abs(k - i) > 3)) kept.push(i);
    if (kept.length >= most) break;
  }
  return kept;
}

function match(
  mean: Float64Array,
  groups: number,
  band: InkBand,
  signals: readonly Float32Array[],
  phase: Float64Array,
  from: number,
  to: number,
  expected: number,
  reach: number,
): { shift: number; likeness: number } {
  const step = 1 / BINS;
  const half = Math.round(reach / step);
  const first = expected - half * step;
  const values = likenesses(mean, groups, signals, band.valid, phase, first, from, to, 2 * half + 1, 1);
  let top = 0;
  for (let j = 1; j < values.length; j++) if (values[j]! > values[top]!) top = j;
  let exact = top;
  const a = values[top - 1];
  const b = values[top + 1];
  if (a !== undefined && b !== undefined) {
    const bend = a - 2 * values[top]! + b;
    if (bend < 0) exact += (0.5 * (a - b)) / bend;
  }
  return { shift: expected + (exact - half) * step, likeness: values[top]! };
}
