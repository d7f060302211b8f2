import { cholesky, invertCholesky } from '../../geometry/cholesky.ts';
import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import type { Raster } from '../../raster/raster.ts';
import { square } from '../../statistics/square.ts';
import { solveLeastSquares } from '../line/solveLeastSquares.ts';
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

/** How the corners must move, so that the grid between them meets the edges. */
function fitGrid(edges: readonly MarkerEdge[]): GridFit | null {
  if (edges.length < FEWEST_EDGES) return null;
  const rows = edges.map(({ at: [x, y], normal: [nx, ny] }) => {
    const [u, v] = [x / MARKER_CELLS, y / MARKER_CELLS];
    const shares = [(1 - u) * (1 - v), u * (1 - v), u * v, (1 - u) * v];
    return [...shares.flatMap((w) => [w * nx, w * ny]), -1];
  });
  const values = edges.map((e) => e.offsetPx);
  let weights = values.map(() => 1);
  let unknowns: number[] | null = null;
  let spread = 0;
  for (let pass = 0; pass < 12; pass++) {
    unknowns = solveLeastSquares(rows, values, weights);
    if (unknowns === null) return null;
    const known = unknowns;
    const off = rows.map((row, i) => Math.abs(row.reduce((sum, r, k) => sum + r * known[k]!, 0) - values[i]!));
    spread = Math.max(LEAST_SPREAD_PX, 1.4826 * median(off));
    // first by absolute distances, which a few far ones cannot lead, then without those at all
    const [near, limit] = [spread, REJECT * spread];
    weights = off.map((d) => (pass < 5 ? 1 / Math.max(near, d) : d < limit ? square(1 - square(d / limit)) : 0));
  }
  const total = weights.reduce((sum, w) => sum + w, 0);
  const normal = unknowns!.map(() => unknowns!.map(() => 0));
  for (const [k, row] of rows.entries()) {
    for (let i = 0; i < row.length; i++) {
      const weighted = weights[k]! * row[i]!;
      for (let j = 0; j < row.length; j++) normal[i]![j]! += weighted * row[j]!;
    }
  }
  const factor = cholesky(normal);
  if (factor === null || total < FEWEST_EDGES / 2) return null;
  const covariance = invertCholesky(factor);
  // Places along one edge err together: the three to five of a cell count for about one.
  const sdPx = spread * Math.sqrt(5 * Math.max(...Array.from({ length: 8 }, (_, i) => covariance[i]![i]!)));
  const moves = [0, 1, 2, 3].map((k): Point => [unknowns![2 * k]!, unknowns![2 * k + 1]!]);
  return { moves, sdPx, agreeing: weights.filter((w) => w > 0.3).length / weights.length };
}

const distance = (a: Point, b: Point): number => norm(a[0] - b[0], a[1] - b[1]);

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1]!;
}
