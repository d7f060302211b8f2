import type { PlantFindings } from '../plants/detection.ts';
import type { FoundReference, Warning } from '../reference/reference.ts';

/** Where the row next to the one counted is nearer to the reference than this much more, nobody knows which was meant. */
const ALIKE_M = 0.08;
/** References that lie beside one row; a frame lies over it, a scale has no place. */
const BESIDE: readonly FoundReference['kind'][] = ['tape', 'rod', 'cards', 'marks'];

/**
 * A warning where rows stand so close that the reference lies about midway between the row counted and the one on its
 * other side; none where the row width is not known.
 */
export function rowsAlike(
  rowLine: PlantFindings['rowLine'],
  kind: FoundReference['kind'],
  { fromM, toM }: { readonly fromM: number; readonly toM: number },
  rowWidthM: number | null,
): readonly Warning[] {
  if (rowLine === null || rowWidthM === null || !BESIDE.includes(kind)) return [];
  const offM = Math.abs(rowLine.acrossAtZeroM + (rowLine.slope * (fromM + toM)) / 2);
  if (rowWidthM - offM > offM + ALIKE_M) return [];
  const message =
    'The reference lies about midway between two rows: counted is the one marked in the picture. Lay it within 15 cm (6 in) of the row you mean.';
  return [{ code: 'rows-alike', message }];
}
