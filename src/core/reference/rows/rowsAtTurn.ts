import type { Homography } from '../../geometry/homography.ts';
import type { Point } from '../../geometry/point.ts';
import type { GreenPoints } from './greenPoints.ts';

export interface RowQuestion {
  readonly green: GreenPoints;
  readonly rowWidthM: number;
  /** The reference's first and last reading, metres, and the photo pixel of the first. */
  readonly fromM: number;
  readonly toM: number;
  readonly fromPx: Point;
}

/** How leaves lie across the rows, for one soil plane and one direction of the rows. */
export interface RowsSeen {
  readonly slope: number;
  /** First harmonic of the places across at the row width, less how far they keep to every second row: -1 to 1. */
  readonly evenness: number;
  /** Where each row's leaves lie across at along = 0, metres, and their share of all. */
  readonly rows: readonly { readonly acrossM: number; readonly share: number }[];
}

/** Rows farther than this from the reference, in row widths, are too small in the photo. */
const REACH = 2.6;
const BINS = 24;

/**
 * Spreads the green points over the ground by `map` and sums them across the rows, one answer for each slope (rise of
 * the rows against the reference). A point weighs as much ground as its pixel shows, so that near and far rows count
 * alike. Empty when hardly anything falls near the reference.
 */
export function rowsAtTurn(
  map: Homography,
  slopes: readonly number[],
  { green, rowWidthM, fromM, toM, fromPx }: RowQuestion,
): RowsSeen[] {
  const n = green.x.length;
  const along = new Float64Array(n);
  const across = new Float64Array(n);
  const weight = new Float64Array(n);
  const reach = REACH * rowWidthM;
  const margin = 0.15 * (toM - fromM);
  const middle = (fromM + toM) / 2;
  const nearSign = Math.sign(map[6] * fromPx[0] + map[7] * fromPx[1] + map[8]);
  let kept = 0;
  for (let i = 0; i < n; i++) {
    const x = green.x[i]!;
    const y = green.y[i]!;
    const w = map[6] * x + map[7] * y + map[8];
    // beyond the horizon
    if (!(w * nearSign > 0)) continue;
    const a = (map[0] * x + map[1] * y + map[2]) / w;
    const b = (map[3] * x + map[4] * y + map[5]) / w;
    if (a < fromM - margin || a > toM + margin || b < -reach || b > reach) continue;
    along[kept] = a - middle;
    across[kept] = b;
    weight[kept++] = 1 / Math.abs(w * w * w);
  }
  if (kept < 40) return [];
  const bins = Math.ceil(2 * (REACH + 0.4) * BINS);
  return slopes.map((slope) => {
    const profile = new Float64Array(bins);
    let all = 0;
    for (let i = 0; i < kept; i++) {
      const at = Math.floor(((across[i]! - slope * along[i]!) / rowWidthM) * BINS + bins / 2);
      if (at < 0 || at >= bins) continue;
      profile[at]! += weight[i]!;
      all += weight[i]!;
    }
    const first = harmonic(profile);
    const phase = (first.angle / (2 * Math.PI)) * BINS;
    const rows = rowsIn(profile, phase, all);
    return {
      slope,
      evenness: all === 0 ? 0 : first.size / all - everySecond(rows),
      rows: rows.map(({ bin, share }) => ({
        acrossM: ((bin - bins / 2 + 0.5) / BINS) * rowWidthM - slope * middle,
        share,
      })),
    };
  });
}

/** Cosine and sine at the row width, one for each bin of a profile. */
const COS: number[] = [];
const SIN: number[] = [];

function harmonic(profile: Float64Array): { size: number; angle: number } {
  for (let i = COS.length; i < profile.length; i++) {
    COS.push(Math.cos((2 * Math.PI * i) / BINS));
    SIN.push(Math.sin((2 * Math.PI * i) / BINS));
  }
  let re = 0;
  let im = 0;
  for (let i = 0; i < profile.length; i++) {
    re += profile[i]! * COS[i]!;
    im += profile[i]! * SIN[i]!;
  }
  return { size: Math.sqrt(re * re + im * im), angle: Math.atan2(im, re) };
}

/** A row with this share of the leaves is there. */
export const PRESENT = 0.08;

/**
 * How far the leaves keep to every second place where a row is expected, 0 to 1: rows twice as far apart would look like
 * that. Less what an odd number of even rows has of it: two of three are every second one.
 */
function everySecond(rows: readonly { k: number; share: number }[]): number {
  const there = rows.filter((row) => row.share >= PRESENT);
  const sum = there.reduce((all, { share }) => all + share, 0);
  if (sum === 0) return 1;
  const apart = there.reduce((all, { k, share }) => all + (k % 2 === 0 ? share : -share), 0);
  const even = there.length >= 3 && there.length % 2 === 1 ? 1 / there.length : 0;
  return Math.max(0, Math.abs(apart) / sum - even);
}

/** The mean place of the leaves around each expected row, within three tenths of a row width. */
function rowsIn(profile: Float64Array, phase: number, all: number): { k: number; bin: number; share: number }[] {
  const rows: { k: number; bin: number; share: number }[] = [];
  for (let k = -1; phase + k * BINS < profile.length; k++) {
    const centre = phase + k * BINS;
    let sum = 0;
    let moment = 0;
    for (let i = Math.ceil(centre - 0.3 * BINS); i <= centre + 0.3 * BINS; i++) {
      sum += profile[i] ?? 0;
      moment += i * (profile[i] ?? 0);
    }
    if (sum > 0) rows.push({ k, bin: moment / sum, share: sum / all });
  }
  return rows;
}
