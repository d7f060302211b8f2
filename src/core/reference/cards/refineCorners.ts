import { crossing, type FittedLine, fitLine } from '../../geometry/fitLine.ts';
import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import { linearLight } from '../../raster/linearLight.ts';
import type { Raster } from '../../raster/raster.ts';
import { MARKER_CELLS } from './cardDesign.ts';
import type { SeenMarker } from './detectMarkers.ts';
import { whiteSpreadPx } from './whiteSpread.ts';

export interface RefinedMarker extends SeenMarker {
  /** Doubt of each corner, pixels per axis. */
  readonly sdPx: number;
}

/** Corners err at least so much: lens, paper, sharpening. */
const LEAST_SD_PX = 0.15;
const PLACES = 24;
const ROUNDS = 3;

/**
 * The corners of a marker to a fraction of a pixel: straight lines through the edges of its black square, met with each
 * other. Edge points lie where the light is half way between the black inside and the white outside, so that blur and
 * the picture's gamma do not shrink the square. Null when a side is too covered to fit a line.
 */
export function refineCorners(photo: Raster, marker: SeenMarker): RefinedMarker | null {
  let corners = marker.corners;
  let sdPx = 1;
  for (let round = 0; round < ROUNDS; round++) {
    const middle: Point = [mean(corners.map((c) => c[0])), mean(corners.map((c) => c[1]))];
    const sides = corners.map((a, k) => sideLine(photo, a, corners[(k + 1) % 4]!, middle));
    if (sides.some((side) => side === null)) return null;
    const lines = sides as FittedLine[];
    const next = lines.map((line, k) => crossing(lines[(k + 3) % 4]!, line));
    const reach = Math.max(...corners.map((c, k) => distance(c, corners[(k + 1) % 4]!))) / 4;
    if (!next.every((c, k) => distance(c, marker.corners[k]!) < Math.max(3, reach))) return null;
    corners = next as unknown as SeenMarker['corners'];
    sdPx = Math.max(...lines.map((line) => (2 * line.rms) / Math.sqrt(line.n)));
  }
  return {
    id: marker.id,
    corners: grown(corners, whiteSpreadPx(photo, marker.id, corners)),
    sdPx: norm(LEAST_SD_PX, sdPx),
  };
}

/** The quad with its sides moved outwards. */
function grown(corners: SeenMarker['corners'], byPx: number): SeenMarker['corners'] {
  const sides = corners.map((a, k): FittedLine => {
    const b = corners[(k + 1) % 4]!;
    const length = distance(a, b);
    const direction: Point = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    // Clockwise in the picture: outside is to the left, (y, -x).
    return { at: [a[0] + direction[1] * byPx, a[1] - direction[0] * byPx], direction, rms: 0, n: 2 };
  });
  return sides.map((side, k) => crossing(sides[(k + 3) % 4]!, side)) as unknown as SeenMarker['corners'];
}

function sideLine(photo: Raster, a: Point, b: Point, middle: Point): FittedLine | null {
  const length = distance(a, b);
  const along: Point = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  let out: Point = [along[1], -along[0]];
  const depth = (middle[0] - a[0]) * out[0] + (middle[1] - a[1]) * out[1];
  if (depth > 0) out = [-out[0], -out[1]];
  // One cell inward is black, as much outward is white paper.
  const reach = Math.max(2.5, Math.min(12, (0.8 * 2 * Math.abs(depth)) / MARKER_CELLS));
  const points = Array.from({ length: PLACES }, (_, i) => {
    const t = 0.08 + (0.84 * i) / (PLACES - 1);
    const foot: Point = [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
    const off = edgeOffset(photo, foot, out, reach);
    return off === null ? null : ([foot[0] + out[0] * off, foot[1] + out[1] * off] as Point);
  }).filter((p) => p !== null);
  const line = points.length < PLACES / 3 ? null : fitLine(points, 0.3);
  return line !== null && line.n >= PLACES / 3 ? line : null;
}

/** Where light crosses half way between the dark inside and the bright outside, pixels outward of `foot`. */
function edgeOffset(photo: Raster, foot: Point, out: Point, reach: number): number | null {
  const step = 0.25;
  const n = Math.round(reach / step);
  const light = Array.from({ length: 2 * n + 1 }, (_, i) => {
    const off = (i - n) * step;
    return linearLight(photo, foot[0] + out[0] * off, foot[1] + out[1] * off);
  });
  if (!light.every(Number.isFinite)) return null;
  const part = Math.max(2, Math.round(n * 0.5));
  const dark = median(light.slice(0, part));
  const bright = median(light.slice(-part));
  if (bright < 0.03 || bright < 2 * dark) return null;
  const half = (dark + bright) / 2;
  for (let i = 1; i < light.length; i++) {
    if (light[i - 1]! < half && light[i]! >= half) {
      return (i - 1 - n + (half - light[i - 1]!) / (light[i]! - light[i - 1]!)) * step;
    }
  }
  return null;
}

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;
const distance = (a: Point, b: Point): number => norm(a[0] - b[0], a[1] - b[1]);

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1]!;
}
