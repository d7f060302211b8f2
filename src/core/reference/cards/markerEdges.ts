import { applyHomography, type Homography } from '../../geometry/homography.ts';
import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import { linearLight } from '../../raster/linearLight.ts';
import type { Raster } from '../../raster/raster.ts';
import { MARKER_CELLS, markerCells } from './cardDesign.ts';
import { cellsToPhoto } from './cellsToPhoto.ts';
import type { Quad } from './darkQuads.ts';

/** A place on an edge between black and white: where it should be, and how far towards the white it is seen. */
export interface MarkerEdge {
  /** Place in cells from the marker's own top left: right, down. */
  readonly at: Point;
  /** Unit normal of the edge in the photo, towards the white side. */
  readonly normal: Point;
  readonly offsetPx: number;
}

const STEPS = 20;

/**
 * Every edge between a black and a white cell of a marker, and between its border and the paper, as seen near where the
 * four corners put it. Light half way between the two sides marks an edge, so that blur and the picture's gamma do not
 * move it. Places where no clear step is seen are left out.
 *
 * @param places where each cell's edge is looked at, as shares of the cell
 */
export function markerEdges(photo: Raster, id: number, corners: Quad, places: readonly number[]): MarkerEdge[] {
  const n = MARKER_CELLS;
  const map = cellsToPhoto(corners);
  if (map === null) return [];
  const cells = markerCells(id);
  const isWhite = (row: number, column: number): boolean => cells[row]?.[column] ?? true;
  const edges: MarkerEdge[] = [];
  for (let line = 0; line <= n; line++) {
    for (let cell = 0; cell < n; cell++) {
      for (const upright of [true, false]) {
        const before = upright ? isWhite(cell, line - 1) : isWhite(line - 1, cell);
        const after = upright ? isWhite(cell, line) : isWhite(line, cell);
        if (before === after) continue;
        for (const t of places) {
          const at = (across: number, along: number): Point => (upright ? [across, along] : [along, across]);
          const step = edgeStep(photo, map, upright, line, cell + t, after ? 1 : -1);
          if (step !== null) edges.push({ at: at(line, cell + t), ...step });
        }
      }
    }
  }
  return edges;
}

const LOOKS = 2 * STEPS + 1;
/** So many looks at either end tell how dark and how bright the sides are. */
const END = STEPS >> 1;
const light = new Float64Array(LOOKS);
const ordered = new Float64Array(END + 1);

/** The step from dark to bright across a grid line at `along`, white lying `way` of it. */
function edgeStep(
  photo: Raster,
  map: Homography,
  upright: boolean,
  line: number,
  along: number,
  way: 1 | -1,
): Omit<MarkerEdge, 'at'> | null {
  // the two ends first: most places without a step end here
  if (!look(photo, map, upright, line, along, way, 0, END)) return null;
  if (!look(photo, map, upright, line, along, way, LOOKS - END, LOOKS)) return null;
  const dark = medianOf(0, END);
  const bright = medianOf(LOOKS - END, LOOKS);
  if (bright < 0.03 || bright < 2 * dark) return null;
  if (!look(photo, map, upright, line, along, way, END, LOOKS - END)) return null;
  const half = (dark + bright) / 2;
  let share: number | null = null;
  for (let i = 1; i < LOOKS; i++) {
    const a = light[i - 1]!;
    const b = light[i]!;
    if (!(a < half && b >= half)) continue;
    const crossing = (i - 1 - STEPS + (half - a) / (b - a)) / STEPS;
    if (share === null || Math.abs(crossing) < Math.abs(share)) share = crossing;
  }
  if (share === null) return null;
  const pixel = (across: number, by: number): Point => applyHomography(map, upright ? [across, by] : [by, across]);
  const at = (by: number): Point => pixel(line + (way * by) / 2, along);
  const [from, to] = [pixel(line, along - 0.1), pixel(line, along + 0.1)];
  const length = norm(to[0] - from[0], to[1] - from[1]);
  const [foot, seen, out] = [at(0), at(share), at(0.1)];
  const turned: Point = [(to[1] - from[1]) / length, -(to[0] - from[0]) / length];
  const side = turned[0] * (out[0] - foot[0]) + turned[1] * (out[1] - foot[1]) < 0 ? -1 : 1;
  const normal: Point = [side * turned[0], side * turned[1]];
  return { normal, offsetPx: normal[0] * (seen[0] - foot[0]) + normal[1] * (seen[1] - foot[1]) };
}

/** Reads the light along the step from one look to before another; false where the picture ends. */
function look(
  photo: Raster,
  h: Homography,
  upright: boolean,
  line: number,
  along: number,
  way: 1 | -1,
  first: number,
  end: number,
): boolean {
  for (let i = first; i < end; i++) {
    const across = line + (way * ((i - STEPS) / STEPS)) / 2;
    const x = upright ? across : along;
    const y = upright ? along : across;
    const w = h[6] * x + h[7] * y + h[8];
    const seen = linearLight(photo, (h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w);
    if (!Number.isFinite(seen)) return false;
    light[i] = seen;
  }
  return true;
}

/** The upper median of a few looks, put in order as they come. */
function medianOf(first: number, end: number): number {
  const n = end - first;
  for (let k = 0; k < n; k++) {
    const value = light[first + k]!;
    let at = k;
    for (; at > 0 && ordered[at - 1]! > value; at--) ordered[at] = ordered[at - 1]!;
    ordered[at] = value;
  }
  return ordered[n >> 1]!;
}
