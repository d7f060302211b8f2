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

const light = new Float64Array(2 * STEPS + 1);

/** The step from dark to bright across a grid line at `along`, white lying `way` of it. */
function edgeStep(
  photo: Raster,
  map: Homography,
  upright: boolean,
  line: number,
  along: number,
  way: 1 | -1,
): Omit<MarkerEdge, 'at'> | null {
  const pixel = (across: number, by: number): Point => applyHomography(map, upright ? [across, by] : [by, across]);
  const at = (share: number): Point => pixel(line + (way * share) / 2, along);
  const look = (from: number, to: number): boolean => {
    for (let i = from; i < to; i++) {
      const [x, y] = at((i - STEPS) / STEPS);
      const seen = linearLight(photo, x, y);
      if (!Number.isFinite(seen)) return false;
      light[i] = seen;
    }
    return true;
  };
  // the two ends first: most places without a step end here
  const end = light.length - (STEPS >> 1);
  if (!look(0, STEPS >> 1) || !look(end, light.length)) return null;
  const [dark, bright] = [median(light.slice(0, STEPS >> 1)), median(light.slice(end))];
  if (bright < 0.03 || bright < 2 * dark) return null;
  if (!look(STEPS >> 1, end)) return null;
  const half = (dark + bright) / 2;
  let share: number | null = null;
  for (let i = 1; i < light.length; i++) {
    const [a, b] = [light[i - 1]!, light[i]!];
    if (!(a < half && b >= half)) continue;
    const crossing = (i - 1 - STEPS + (half - a) / (b - a)) / STEPS;
    if (share === null || Math.abs(crossing) < Math.abs(share)) share = crossing;
  }
  if (share === null) return null;
  const [from, to] = [pixel(line, along - 0.1), pixel(line, along + 0.1)];
  const length = norm(to[0] - from[0], to[1] - from[1]);
  const [foot, seen, out] = [at(0), at(share), at(0.1)];
  const turned: Point = [(to[1] - from[1]) / length, -(to[0] - from[0]) / length];
  const side = turned[0] * (out[0] - foot[0]) + turned[1] * (out[1] - foot[1]) < 0 ? -1 : 1;
  const normal: Point = [side * turned[0], side * turned[1]];
  return { normal, offsetPx: normal[0] * (seen[0] - foot[0]) + normal[1] * (seen[1] - foot[1]) };
}

function median(values: Float64Array): number {
  return values.sort()[values.length >> 1]!;
}
