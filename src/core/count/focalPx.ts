import { norm } from '../geometry/norm.ts';

/** Diagonal of the 36 x 24 mm frame that 35 mm equivalents refer to. */
const DIAGONAL_35_MM = norm(36, 24);
const SHORTEST_MM = 8;
const LONGEST_MM = 400;

/**
 * Focal length in pixels from a 35 mm equivalent, by the diagonal angle of view (CIPA DCG-001, as phones write it).
 * Null when the value is missing or no camera's: a lying tag must not bend the soil plane.
 */
export function focalPx(focal35Mm: number | null, widthPx: number, heightPx: number): number | null {
  if (focal35Mm === null || !(focal35Mm >= SHORTEST_MM && focal35Mm <= LONGEST_MM)) return null;
  return (focal35Mm / DIAGONAL_35_MM) * norm(widthPx, heightPx);
}
