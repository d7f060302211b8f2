import type { Point } from '../geometry/point.ts';
import { square } from '../statistics/square.ts';
import { weightedMedian } from './weightedMedian.ts';

/** One thing that may stand on the row: its place in millimetres (along, across) and its weight. */
export interface RowMark {
  readonly atMm: Point;
  readonly weight: number;
}

export interface RowFit {
  readonly acrossAtZeroMm: number;
  readonly slope: number;
  readonly sdMm: number;
  /** Share of the weight that lies within the band of the row. */
  readonly share: number;
}

export interface RowPrior {
  /** Where the row is expected across, in the middle of the marks, and how sure that is (standard deviation), in millimetres. */
  readonly acrossMm: number;
  readonly sdMm: number;
  /** The row may turn against the strip by at most this (rise over run). */
  readonly maxSlope: number;
}

const SLOPE_STEPS = 16;
const STEP_MM = 6;
const BAND_MM = 28;

/**
 * The straight line along which most of the marks stand (a Hough search over slope and offset with a Gaussian band,
 * then a reweighted least-squares fit with Tukey's biweight). Null without marks. With marks over less than half
 * a metre the slope is held to zero.
 */
export function findRowLine(marks: readonly RowMark[], prior: RowPrior): RowFit | null {
  if (marks.length === 0) return null;
  const along = marks.map((m) => m.atMm[0]);
  const middle = (Math.min(...along) + Math.max(...along)) / 2;
  const lengthMm = Math.max(...along) - Math.min(...along);
  const steps = lengthMm > 500 ? SLOPE_STEPS : 0;
  let best = { score: -1, slope: 0, across: 0 };
  for (let k = -steps; k <= steps; k++) {
    const slope = steps === 0 ? 0 : (k / steps) * prior.maxSlope;
    const offsets = marks.map((m) => m.atMm[1] - slope * (m.atMm[0] - middle));
    const low = Math.min(...offsets);
    const high = Math.max(...offsets);
    for (let across = low; across <= high + STEP_MM; across += STEP_MM) {
      let sum = 0;
      for (let i = 0; i < marks.length; i++) {
        const z = (offsets[i]! - across) / BAND_MM;
        if (z > -3 && z < 3) sum += marks[i]!.weight * Math.exp(-0.5 * z * z);
      }
      const far = (across - prior.acrossMm) / prior.sdMm;
      const score = sum * Math.exp(-0.5 * far * far) * (1 - (0.16 * Math.abs(slope)) / prior.maxSlope);
      if (score > best.score) best = { score, slope, across };
    }
  }

  let { slope, across } = best;
  let sdMm = BAND_MM;
  for (let round = 0; round < 6; round++) {
    const cut = Math.max(60, Math.min(90, 3 * sdMm));
    const sums = { w: 0, x: 0, y: 0, xx: 0, xy: 0 };
    for (const { atMm, weight } of marks) {
      const x = atMm[0] - middle;
      const r = (atMm[1] - across - slope * x) / cut;
      if (Math.abs(r) >= 1) continue;
      const w = weight * square(1 - r * r);
      sums.w += w;
      sums.x += w * x;
      sums.y += w * atMm[1];
      sums.xx += w * x * x;
      sums.xy += w * x * atMm[1];
    }
    if (sums.w === 0) break;
    // the slope is pulled to zero as strongly as a spread of 150 mm of marks would
    const spread = sums.xx - (sums.x * sums.x) / sums.w + sums.w * square(150);
    slope = steps === 0 ? 0 : (sums.xy - (sums.x * sums.y) / sums.w) / spread;
    slope = Math.max(-prior.maxSlope, Math.min(prior.maxSlope, slope));
    across = (sums.y - slope * sums.x) / sums.w;
    const near = marks
      .map((m) => [Math.abs(m.atMm[1] - across - slope * (m.atMm[0] - middle)), m.weight] as const)
      .filter(([d]) => d < cut);
    if (near.length > 0) sdMm = Math.max(6, 1.48 * weightedMedian(near));
  }
  const band = Math.max(50, Math.min(75, 2.5 * sdMm));
  let inside = 0;
  let all = 0;
  for (const { atMm, weight } of marks) {
    all += weight;
    if (Math.abs(atMm[1] - across - slope * (atMm[0] - middle)) <= band) inside += weight;
  }
  return { acrossAtZeroMm: across - slope * middle, slope, sdMm, share: inside / all };
}
