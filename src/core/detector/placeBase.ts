import { norm } from '../geometry/norm.ts';
import type { Point } from '../geometry/point.ts';
import { square } from '../statistics/square.ts';
import type { Sight } from './samePlant.ts';

/** The row in the network's pixels: y = y0 + slope x, with a standard deviation; null where it is not known. */
export type RowGuess = { readonly y0: number; readonly slope: number; readonly sdPx: number } | null;

/**
 * From this tangent on, in views from the side of the row, the visible stem is worth more than the regressed length. In
 * views along the row the next plant's leaves would be taken for a stem.
 */
const OBLIQUE = 0.5;
const FROM_SIDE = 0.7;
const STEM_SHARE = 0.75;

/**
 * The base from all that is known: the network's vector; the length of the visible stem, which lengthens it in oblique
 * views; and the row, toward which the base slides along the line of sight only (weights by precision: the length
 * along the sight is uncertain by 5 px plus 8 px per unit of the tangent). Pixels of the network's input.
 */
export function placeBase(crownPx: Point, vectorBasePx: Point, stemPx: number, sight: Sight, row: RowGuess): Point {
  const { away, tangent } = sight;
  const toBase: Point = [vectorBasePx[0] - crownPx[0], vectorBasePx[1] - crownPx[1]];
  const along = -(toBase[0] * away[0] + toBase[1] * away[1]);
  const beside: Point = [toBase[0] + away[0] * along, toBase[1] + away[1] * along];
  let s = along;
  if (tangent > OBLIQUE && Math.abs(away[1]) > FROM_SIDE && stemPx > along) s += STEM_SHARE * (stemPx - along);
  const turn = away[1] - (row === null ? 0 : row.slope * away[0]);
  if (row !== null && tangent > 0.1 && Math.abs(turn) > 0.3) {
    const x = crownPx[0] + beside[0];
    const y = crownPx[1] + beside[1];
    const toRow = (y - row.y0 - row.slope * x) / turn;
    const sdLength = 5 + 8 * tangent;
    const sdRow = norm(row.sdPx, 3) / Math.abs(turn);
    const trust = square(sdLength) / (square(sdLength) + square(sdRow));
    if (Math.abs(toRow - s) < 3 * norm(sdLength, sdRow)) s += trust * (toRow - s);
  }
  return [crownPx[0] - away[0] * s + beside[0], crownPx[1] - away[1] * s + beside[1]];
}
