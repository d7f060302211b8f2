import { norm } from '../geometry/norm.ts';
import type { Detection } from '../plants/detection.ts';

/** A plant counted nearer than this is the second one that a mark's chance of a double speaks of. */
const PAIR_MM = 20;

/**
 * The same marks, none of which says double where another counted plant stands within 20 mm: the pair is counted
 * already. Marks that were not counted explain nothing.
 */
export function loneDoubles(marks: readonly Detection[], mmPerPx: number): readonly Detection[] {
  const plants = marks.filter((mark) => mark.kind === 'plant');
  return marks.map((mark) => {
    const paired = plants.some((plant) => plant !== mark && apartPx(plant, mark) * mmPerPx < PAIR_MM);
    return paired ? { ...mark, doubleChance: 0 } : mark;
  });
}

function apartPx({ baseStripPx: [ax, ay] }: Detection, { baseStripPx: [bx, by] }: Detection): number {
  return norm(ax - bx, ay - by);
}
