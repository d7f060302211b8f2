import { fitHomography } from '../../geometry/fitHomography.ts';
import { applyHomography } from '../../geometry/homography.ts';
import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import { linearLight } from '../../raster/linearLight.ts';
import type { Raster } from '../../raster/raster.ts';
import { MARKER_CELLS, markerCells } from './cardDesign.ts';
import type { Quad } from './darkQuads.ts';

const FEWEST_EDGES = 30;
/** Straw and soil on the card move single edges by more. */
const NEAR_PX = 0.4;
const MOST_PX = 1.5;

/**
 * How far white has spread into black, pixels: overexposure and the camera's tone curve move every edge towards the
 * black side, which makes a black square look small (by 0.4 % of the scale in a bright scene). Edges of the cells inside
 * tell it: their middles are where they are whatever the spread, so what grid and white cells together say of
 * edges, offset = spread (place from the middle + side of white), is solved by least squares. 0 where too few edges show.
 */
export function whiteSpreadPx(photo: Raster, id: number, corners: Quad): number {
  const n = MARKER_CELLS;
  const frame: readonly Point[] = [
    [0, 0],
    [n, 0],
    [n, n],
    [0, n],
  ];
  const map = fitHomography(frame.map((from, k) => ({ from, to: corners[k]! })));
  if (map === null) return 0;
  const cells = markerCells(id);
  const pixel = (x: number, y: number): Point => applyHomography(map.homography, [x, y]);
  const edges: { offset: number; weight: number }[] = [];
  for (let line = 1; line < n; line++) {
    for (let cell = 0; cell < n; cell++) {
      for (const upright of [true, false]) {
        const before = upright ? cells[cell]![line - 1]! : cells[line - 1]![cell]!;
        const after = upright ? cells[cell]![line]! : cells[line]![cell]!;
        if (before === after) continue;
        const whiteSide = before ? 1 : -1;
        for (const t of [0.3, 0.5, 0.7]) {
          const at = (along: number): Point => (upright ? pixel(along, cell + t) : pixel(cell + t, along));
          const offset = edgeOffsetPx(photo, at, line, whiteSide);
          if (offset === null) continue;
          edges.push({ offset, weight: (line - n / 2) / (n / 2) + whiteSide });
        }
      }
    }
  }
  return edges.length < FEWEST_EDGES ? 0 : robustSlope(edges);
}

/** Slope of offset over weight: a weighted median first, then least squares of what lies near it. */
function robustSlope(edges: readonly { offset: number; weight: number }[]): number {
  const slopes = edges
    .filter((e) => Math.abs(e.weight) > 0.2)
    .map((e) => ({ slope: e.offset / e.weight, weight: Math.abs(e.weight) }))
    .sort((p, q) => p.slope - q.slope);
  const total = slopes.reduce((sum, s) => sum + s.weight, 0);
  let passed = 0;
  const middle = slopes.find((s) => {
    passed += s.weight;
    return passed >= total / 2;
  });
  if (middle === undefined) return 0;
  const near = edges.filter((e) => Math.abs(e.offset - middle.slope * e.weight) < NEAR_PX);
  const squares = near.reduce((sum, e) => sum + e.weight ** 2, 0);
  if (near.length < FEWEST_EDGES || !(squares > 0)) return 0;
  const spread = near.reduce((sum, e) => sum + e.offset * e.weight, 0) / squares;
  return Math.abs(spread) <= MOST_PX ? spread : 0;
}

/** Where light is half way between the two cells beside a grid line, pixels past the line. */
function edgeOffsetPx(photo: Raster, at: (along: number) => Point, line: number, whiteSide: number): number | null {
  const steps = 20;
  const light = Array.from({ length: 2 * steps + 1 }, (_, i) =>
    linearLight(photo, ...at(line + (0.5 * (i - steps)) / steps)),
  );
  const ends = [light[0]!, light[light.length - 1]!];
  const [dark, bright] = whiteSide > 0 ? [ends[1]!, ends[0]!] : [ends[0]!, ends[1]!];
  if (!(bright > 2.5 * dark)) return null;
  const half = (dark + bright) / 2;
  for (let i = 1; i < light.length; i++) {
    const [a, b] = [light[i - 1]!, light[i]!];
    if ((a - half) * (b - half) > 0 || a === b) continue;
    const along = (0.5 * (i - 1 - steps + (half - a) / (b - a))) / steps;
    const [p, q] = [at(line), at(line + along)];
    return Math.sign(along) * norm(q[0] - p[0], q[1] - p[1]);
  }
  return null;
}
