import { cholesky, invertCholesky } from '../../geometry/cholesky.ts';
import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import type { Raster } from '../../raster/raster.ts';
import { square } from '../../statistics/square.ts';
import { solveNormal } from '../line/solveNormal.ts';
import { MARKER_CELLS } from './cardDesign.ts';
import type { SeenMarker } from './detectMarkers.ts';
import { type MarkerEdge, markerEdges } from './markerEdges.ts';
import { withCorner } from './withCorner.ts';

export interface RefinedMarker extends SeenMarker {
  /** Doubt of each corner, pixels per axis. */
  readonly sdPx: number;
}

/** Corners err at least so much: lens, paper, sharpening. */
const LEAST_SD_PX = 0.15;
/** Places along each cell's edge, first a rough look, then a close one when corners move by less than so many pixels. */
const ROUGH = [0.5];
const CLOSE = [0.14, 0.32, 0.5, 0.68, 0.86];
const CLOSE_PX = 0.4;
/** Edges are followed to where they are seen until corners move by less than this, pixels, or so often. */
const STILL_PX = 0.02;
const MOST_ROUNDS = 12;
/** So many edges must be seen, and of them a share must agree: a marker has 200 and more. Clean ones agree well. */
const FEWEST_EDGES = 40;
const LEAST_AGREEING = 0.4;
const WELL_AGREEING = 0.9;
/** Edges under dirt and straw lie anywhere: beyond so many spreads they count for nothing (Tukey's biweight). */
const REJECT = 4.7;
const LEAST_SPREAD_PX = 0.12;

/**
 * The corners of a marker to a fraction of a pixel. All its edges, inside and around, lie on one projective grid of known
 * cells, but for a spread of white into black (overexposure and the camera's tone curve move every edge towards the black,
 * which would make the square look small). The four corners and that spread are fitted to the edges seen, those that
 * dirt or straw displaces left out. Null when too few edges agree.
 */
export function refineCorners(photo: Raster, marker: SeenMarker): RefinedMarker | null {
  const first = followed(photo, marker);
  if (first !== null && first.agreeing >= WELL_AGREEING) return first.refined;
  // A corner under dirt may have been taken for another place: start with each where the other three have it, too.
  const others = marker.corners.flatMap(
    (_, k) => followed(photo, { ...marker, corners: withCorner(marker.corners, k) }) ?? [],
  );
  const best = [first, ...others].reduce((p, q) => (q !== null && q.agreeing > (p?.agreeing ?? 0) ? q : p), null);
  return best !== null && best.agreeing >= LEAST_AGREEING ? best.refined : null;
}

function followed(photo: Raster, marker: SeenMarker): { refined: RefinedMarker; agreeing: number } | null {
  let { corners } = marker;
  const reach = Math.max(...corners.map((c, k) => distance(c, corners[(k + 1) % 4]!))) / 3;
  let places: readonly number[] = ROUGH;
  let fit: GridFit | null = null;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    fit = fitGrid(markerEdges(photo, marker.id, corners, places));
    if (fit === null) return null;
    const { moves } = fit;
    corners = corners.map((c, k): Point => [c[0] + moves[k]![0], c[1] + moves[k]![1]]) as unknown as typeof corners;
    if (!corners.every((c, k) => distance(c, marker.corners[k]!) < Math.max(3, reach))) return null;
    const most = Math.max(...moves.map(([x, y]) => norm(x, y)));
    if (places === CLOSE && most < STILL_PX) break;
    if (most < CLOSE_PX || round > MOST_ROUNDS / 2) places = CLOSE;
  }
  if (fit === null) return null;
  return { refined: { id: marker.id, corners, sdPx: norm(LEAST_SD_PX, fit.sdPx) }, agreeing: fit.agreeing };
}

interface GridFit {
  readonly moves: readonly Point[];
  readonly sdPx: number;
  /** Share of the edges that lie on the grid. */
  readonly agreeing: number;
}

/** Moves of the four corners, each in x and y, and the spread of white. */
const UNKNOWNS = 9;

/** How the corners must move, so that the grid between them meets the edges. */
function fitGrid(edges: readonly MarkerEdge[]): GridFit | null {
  const n = edges.length;
  if (n < FEWEST_EDGES) return null;
  // a row an edge, one after the other: plain arrays of numbers keep this quick
  const rows = new Float64Array(UNKNOWNS * n);
  const values = new Float64Array(n);
  for (let k = 0, at = 0; k < n; k++) {
    const { at: place, normal, offsetPx } = edges[k]!;
    const u = place[0] / MARKER_CELLS;
    const v = place[1] / MARKER_CELLS;
    values[k] = offsetPx;
    for (let corner = 0; corner < 4; corner++) {
      const share = (corner === 1 || corner === 2 ? u : 1 - u) * (corner < 2 ? 1 - v : v);
      rows[at++] = share * normal[0];
      rows[at++] = share * normal[1];
    }
    rows[at++] = -1;
  }
  const weights = new Float64Array(n).fill(1);
  const off = new Float64Array(n);
  let unknowns: number[] | null = null;
  let spread = 0;
  for (let pass = 0; pass < 12; pass++) {
    unknowns = solveNormal(normalEquations(rows, values, weights));
    if (unknowns === null) return null;
    for (let k = 0, at = 0; k < n; k++) {
      let sum = 0;
      for (let i = 0; i < UNKNOWNS; i++, at++) sum += rows[at]! * unknowns[i]!;
      off[k] = Math.abs(sum - values[k]!);
    }
    spread = Math.max(LEAST_SPREAD_PX, 1.4826 * off.slice().sort()[n >> 1]!);
    // first by absolute distances, which a few far ones cannot lead, then without those at all
    const limit = REJECT * spread;
    for (let k = 0; k < n; k++) {
      const d = off[k]!;
      weights[k] = pass < 5 ? 1 / Math.max(spread, d) : d < limit ? square(1 - square(d / limit)) : 0;
    }
  }
  let total = 0;
  let agreeing = 0;
  for (let k = 0; k < n; k++) {
    total += weights[k]!;
    if (weights[k]! > 0.3) agreeing++;
  }
  const upper = normalEquations(rows, values, weights);
  const normal = upper.map((_, i) => upper.map((_row, j) => upper[Math.min(i, j)]![Math.max(i, j)]!));
  const factor = cholesky(normal);
  if (factor === null || total < FEWEST_EDGES / 2) return null;
  const covariance = invertCholesky(factor);
  // Places along one edge err together: the three to five of a cell count for about one.
  const sdPx = spread * Math.sqrt(5 * Math.max(...Array.from({ length: 8 }, (_, i) => covariance[i]![i]!)));
  const moves = [0, 1, 2, 3].map((k): Point => [unknowns![2 * k]!, unknowns![2 * k + 1]!]);
  return { moves, sdPx, agreeing: agreeing / n };
}

/** The upper triangle of the weighted normal equations, the right-hand side behind each row. */
function normalEquations(rows: Float64Array, values: Float64Array, weights: Float64Array): Float64Array[] {
  const normal = Array.from({ length: UNKNOWNS }, () => new Float64Array(UNKNOWNS + 1));
  for (let i = 0; i < UNKNOWNS; i++) {
    const row = normal[i]!;
    for (let k = 0, at = 0; k < values.length; k++, at += UNKNOWNS) {
      const weighted = weights[k]! * rows[at + i]!;
      if (weighted === 0) continue;
      for (let j = i; j < UNKNOWNS; j++) row[j]! += weighted * rows[at + j]!;
      row[UNKNOWNS]! += weighted * values[k]!;
    }
  }
  return normal;
}

const distance = (a: Point, b: Point): number => norm(a[0] - b[0], a[1] - b[1]);
