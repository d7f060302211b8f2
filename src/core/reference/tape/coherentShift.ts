import { square } from '../../statistics/square.ts';

/** How like the print a stretch is (correlation) when its phase is moved by parts of a period, and on how many columns. */
export interface ShiftProfile {
  /** Place of the stretch, t = u / (1 + c u). */
  readonly t: number;
  readonly columns: number;
  /** Likeness at equal parts of one period. */
  readonly likeness: Float64Array;
}

/** A smooth shift of the phase along a band, periods: offset + slope t + bend t^2, with how well the whole print fits. */
export interface CoherentShift {
  readonly offset: number;
  readonly slope: number;
  readonly bend: number;
  /** Log likelihood over that of no print at all. */
  readonly gain: number;
  /** Spread (1 sd) of the shift end to end over all shifts, weighed by their likelihood, periods. */
  readonly lengthSd: number;
}

/** Relief under a tape moves single stretches by about so much of a period (1 sd). */
const RELIEF_SD = 0.12;
const STEP = 0.12;
/** Independent samples a column: by the spread of likeness with print that is not there, on rendered tapes. */
const SAMPLES_A_COLUMN = 3;

/**
 * The smooth shift under which all stretches together are most like the print: a search over the whole range, because a
 * loop that goes from stretch to stretch slips by a period where marks are hardly resolved, and where it slips may hang on
 * the last bit. Independent of any order of the stretches.
 *
 * @param slopeReach greatest slope to try, either way, periods a unit of t; `bendReach` likewise
 */
export function coherentShift(
  profiles: readonly ShiftProfile[],
  slopeReach: number,
  bendReach: number,
): CoherentShift | null {
  const first = profiles[0];
  const last = profiles[profiles.length - 1];
  if (first === undefined || last === undefined || profiles.length < 4) return null;
  const parts = first.likeness.length;
  const gains = profiles.map((p) => softened(p));
  const middle = (first.t + last.t) / 2;
  const half = Math.abs(last.t - first.t) / 2;
  // slope about the middle and bend without slope or mean over the band move the ends by themselves
  const xs = profiles.map((p) => (p.t - middle) / half);
  const bends = xs.map((x) => x * x - 1 / 3);
  const slopes = Math.ceil((slopeReach * half) / STEP);
  const bendSteps = Math.ceil((bendReach * half * half) / STEP);
  const sums = new Float64Array(parts);
  let best = { slope: 0, bend: 0, offset: 0, gain: Number.NEGATIVE_INFINITY };
  const tried: { readonly gain: number; readonly length: number }[] = [];
  for (let i = -slopes; i <= slopes; i++) {
    for (let j = -bendSteps; j <= bendSteps; j++) {
      sums.fill(0);
      for (let k = 0; k < xs.length; k++) {
        const shift = (i * xs[k]! + j * bends[k]!) * STEP;
        const at = (shift - Math.floor(shift)) * parts;
        const low = Math.floor(at);
        const f = at - low;
        const g = gains[k]!;
        for (let b = 0; b < parts; b++) sums[b]! += (1 - f) * g[(b + low) % parts]! + f * g[(b + low + 1) % parts]!;
      }
      let top = 0;
      for (let b = 1; b < parts; b++) if (sums[b]! > sums[top]!) top = b;
      tried.push({ gain: sums[top]!, length: 2 * i * STEP });
      if (sums[top]! > best.gain) best = { slope: i * STEP, bend: j * STEP, offset: top / parts, gain: sums[top]! };
    }
  }
  let weight = 0;
  let mean = 0;
  let second = 0;
  for (const { gain, length } of tried) {
    const w = Math.exp(gain - best.gain);
    weight += w;
    mean += w * length;
    second += w * square(length);
  }
  mean /= weight;
  // back from x = (t - middle) / half to t
  const bend = best.bend / square(half);
  const slope = best.slope / half - 2 * bend * middle;
  const offset = best.offset - best.bend / 3 - (best.slope / half) * middle + bend * square(middle);
  return { offset, slope, bend, gain: best.gain, lengthSd: Math.sqrt(Math.max(0, second / weight - square(mean))) };
}

/** Log likelihood of a stretch at each shift, the best within what relief may add. */
function softened({ columns, likeness }: ShiftProfile): Float64Array {
  const n = likeness.length;
  const raw = likeness.map((r) =>
    r > 0 ? -0.5 * SAMPLES_A_COLUMN * columns * Math.log(1 - Math.min(0.98, r * r)) : 0,
  );
  const reach = Math.round(3 * RELIEF_SD * n);
  return raw.map((_, b) => {
    let best = 0;
    for (let d = -reach; d <= reach; d++) {
      best = Math.max(best, raw[(b + d + n) % n]! - 0.5 * square(d / n / RELIEF_SD));
    }
    return best;
  });
}
