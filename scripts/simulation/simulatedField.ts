import { drawGamma, drawPoisson } from '../../src/core/statistics/draw.ts';
import type { Random } from '../../src/core/statistics/seededRandom.ts';

/** How the stand of an invented field lies over it. */
export type FieldKind = 'Poisson' | 'clumped' | 'patchy' | 'strongly clumped' | 'one hard patch';
export const FIELD_KINDS: readonly FieldKind[] = ['Poisson', 'clumped', 'patchy', 'strongly clumped', 'one hard patch'];

/** An invented field: expected plants at a spot of 1/1000 ac in each cell of a square grid. */
export interface SimulatedField {
  readonly cells: Float64Array;
  /** True where the stand is thinned. */
  readonly inPatch: readonly boolean[];
  readonly mean: number;
}

const SIDE = 24;

/**
 * - Poisson: the same expected stand all over.
 * - clumped: every spot has its own expected stand, gamma with k 5 to 20 (CV 22 to 45 % beyond chance).
 * - strongly clumped: the same with k 2 to 5 (CV 45 to 71 %), a stand no field should have.
 * - patchy: one to four round patches with soft edges, thinned by 40 to 90 % in the middle, over a field that varies by
 *   10 % from spot to spot; patches cover 5 to 40 % of the field.
 * - one hard patch: 10 to 40 % of the field thinned to 20 to 70 % with a sharp edge, nothing else varies. The hardest
 *   case: the good ground alone looks Poisson.
 *
 * @param meanPlants expected plants at a spot in good ground
 */
export function simulateField(kind: FieldKind, meanPlants: number, random: Random): SimulatedField {
  const between = (low: number, high: number) => low + (high - low) * random();
  const cells = new Float64Array(SIDE * SIDE).fill(meanPlants);
  const kept = new Float64Array(SIDE * SIDE).fill(1);
  if (kind === 'clumped' || kind === 'strongly clumped') {
    const k = kind === 'clumped' ? between(5, 20) : between(2, 5);
    for (let i = 0; i < cells.length; i++) cells[i]! *= drawGamma(k, random) / k;
  } else if (kind === 'patchy') {
    const patches = 1 + Math.floor(random() * 4);
    const share = between(0.05, 0.4);
    for (let p = 0; p < patches; p++) {
      const radius = Math.sqrt(share / patches / Math.PI) * SIDE;
      softPatch(kept, { x: SIDE * random(), y: SIDE * random() }, radius, between(0.4, 0.9));
    }
    for (let i = 0; i < cells.length; i++) cells[i]! *= (kept[i]! * drawGamma(100, random)) / 100;
  } else if (kind === 'one hard patch') {
    const rows = Math.round(between(0.1, 0.4) * SIDE);
    const left = between(0.2, 0.7);
    kept.fill(left, 0, rows * SIDE);
    for (let i = 0; i < rows * SIDE; i++) cells[i]! *= left;
  }
  return { cells, inPatch: Array.from(kept, (k) => k < 0.8), mean: cells.reduce((a, b) => a + b, 0) / cells.length };
}

function softPatch(kept: Float64Array, at: { x: number; y: number }, radius: number, depth: number): void {
  for (let y = 0; y < SIDE; y++) {
    for (let x = 0; x < SIDE; x++) {
      // distance on a field without edges, so that a patch is never cut
      const dx = Math.min(Math.abs(x - at.x), SIDE - Math.abs(x - at.x));
      const dy = Math.min(Math.abs(y - at.y), SIDE - Math.abs(y - at.y));
      const r = Math.hypot(dx, dy) / radius;
      kept[y * SIDE + x]! *= 1 - depth / (1 + r ** 4);
    }
  }
}

/** Plants counted at one spot picked at random, or at random among the cells that `where` allows. */
export function countSpot(field: SimulatedField, random: Random, where?: (cell: number) => boolean): number {
  for (;;) {
    const cell = Math.floor(random() * field.cells.length);
    if (where === undefined || where(cell)) return drawPoisson(field.cells[cell]!, random);
  }
}
