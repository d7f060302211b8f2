import type { CorrectedResult } from '../../core/corrections/replay.ts';
import { applyHomography, invertHomography } from '../../core/geometry/homography.ts';
import type { Point } from '../../core/geometry/point.ts';

/**
 * Where a plant that was missed most likely stands, as a photo pixel: the middle of a bare run of row, the longest first;
 * `turn` goes on to the next ones. Null where no scale is known or the stretch is full of plants.
 */
export function proposePlace({ plants, stretch, reference }: CorrectedResult, turn: number): Point | null {
  if (stretch === null || reference.photoToGround === null) return null;
  const row = plants.filter((p) => p.kind === 'plant' && p.inStretch && p.alongM !== null);
  const stops = [stretch.fromM, ...row.map((p) => p.alongM!), stretch.toM].sort((a, b) => a - b);
  const runs = stops
    .slice(1)
    .map((to, i) => ({ middleM: (to + stops[i]!) / 2, lengthM: to - stops[i]! }))
    .filter((run) => run.lengthM > 0)
    .sort((a, b) => b.lengthM - a.lengthM);
  const run = runs[turn % Math.max(1, runs.length)];
  if (run === undefined) return null;
  return applyHomography(invertHomography(reference.photoToGround), [run.middleM, acrossNear(row, run.middleM)]);
}

/** Across the row as its nearest plants stand: rows wander from the tape. */
function acrossNear(row: CorrectedResult['plants'], alongM: number): number {
  const near = [...row]
    .sort((a, b) => Math.abs(a.alongM! - alongM) - Math.abs(b.alongM! - alongM))
    .slice(0, 4)
    .map((p) => p.acrossM ?? 0);
  return near.length === 0 ? 0 : near.reduce((sum, a) => sum + a, 0) / near.length;
}
