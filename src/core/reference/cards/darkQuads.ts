import { crossing, type FittedLine, fitLine } from '../../geometry/fitLine.ts';
import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import type { BitMask } from '../../raster/bitMask.ts';
import { type Patches, patchesOf } from '../../raster/patches.ts';
import type { Raster } from '../../raster/raster.ts';
import { type Runs, runsOf } from '../../raster/runs.ts';
import { square } from '../../statistics/square.ts';
import { darkMask } from './darkMask.ts';

export type Quad = readonly [Point, Point, Point, Point];

const LEAST_SIDE_PX = 11;
/** Straight sides must account for so much of an outline: of a clean square, and of one under dirt and straw. */
const CLEAN_SHARE = 0.7;
const DIRTY_SHARE = 0.4;

/**
 * Four-cornered patches much darker than what surrounds them, corners to a pixel or two, clockwise in the picture: what
 * the black squares of marker cards are. Specks and ragged shadows are left out.
 *
 * @param bridgesPx patches are looked for as they are (0) and joined over gaps up to twice so wide: a straw across the
 *   border cuts a square in two.
 */
export function darkQuads(picture: Raster, bridgesPx: readonly number[]): Quad[] {
  if (Math.min(picture.widthPx, picture.heightPx) < LEAST_SIDE_PX) return [];
  const mask = darkMask(picture);
  return bridgesPx.flatMap((bridgePx) => quadsOf(mask, bridgePx));
}

function quadsOf(mask: BitMask, bridgePx: number): Quad[] {
  const { widthPx: w, heightPx: h } = mask;
  const runs = runsOf(mask, bridgePx);
  const patches = patchesOf(runs);
  const quads: Quad[] = [];
  for (let patch = 0; patch < patches.count; patch++) {
    const area = patches.areaPx[patch]!;
    const width = patches.right[patch]! - patches.left[patch]! + 1;
    const height = patches.bottom[patch]! - patches.top[patch]! + 1;
    if (width < LEAST_SIDE_PX || height < LEAST_SIDE_PX || area < 0.15 * width * height) continue;
    if (width > 0.9 * w || height > 0.9 * h) continue;
    for (const quad of quadsAround(outlineOf(runs, patches, patch), area)) {
      quads.push(bridgePx === 0 ? quad : shrunk(quad, bridgePx));
    }
  }
  return quads;
}

/** The quad with its sides moved inwards. */
function shrunk(quad: Quad, byPx: number): Quad {
  const sides = quad.map((a, k) => {
    const b = quad[(k + 1) % 4]!;
    const length = norm(b[0] - a[0], b[1] - a[1]);
    const direction: Point = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    return { at: [a[0] - direction[1] * byPx, a[1] + direction[0] * byPx] as Point, direction, rms: 0, n: 2 };
  });
  return sides.map((side, k) => crossing(sides[(k + 3) % 4]!, side)) as unknown as Quad;
}

interface Outline {
  readonly x: Int32Array;
  readonly y: Int32Array;
}

/** First and last pixel of a patch in each row and column. */
function outlineOf({ rowStart, from, to }: Runs, patches: Patches, patch: number): Outline {
  const [left, right] = [patches.left[patch]!, patches.right[patch]!];
  const [top, bottom] = [patches.top[patch]!, patches.bottom[patch]!];
  const height = bottom - top + 1;
  const width = right - left + 1;
  const x = new Int32Array(2 * (height + width));
  const y = new Int32Array(2 * (height + width));
  const columns = 2 * height;
  y.fill(-1, columns);
  x.fill(-1, 0, columns);
  for (let i = patches.firstRun[patch]!, row = top; i >= 0; i = patches.nextRun[i]!) {
    while (i >= rowStart[row + 1]!) row++;
    const at = 2 * (row - top);
    y[at] = y[at + 1] = row;
    if (x[at]! < 0) x[at] = from[i]!;
    x[at + 1] = to[i]!;
    for (let column = from[i]!, k = columns + 2 * (column - left); column <= to[i]!; column++, k += 2) {
      if (y[k]! < 0) {
        x[k] = x[k + 1] = column;
        y[k] = row;
      }
      y[k + 1] = row;
    }
  }
  return { x, y };
}

/** The four farthest points of an outline where straight sides between them account for it, else where sides along it cross. */
function quadsAround(outline: Outline, areaPx: number): Quad[] {
  const quad = farthestQuad(outline, areaPx);
  if (quad === null) return [];
  const { x, y } = outline;
  const limit = Math.max(1.6, 0.025 * norm(quad[2][0] - quad[0][0], quad[2][1] - quad[0][1]));
  const share = (q: Quad): number => nearSides(x, y, q, limit) / x.length;
  if (share(quad) >= CLEAN_SHARE) return [quad];
  const along = alongSides(outline, quad, limit);
  return along !== null && share(along) >= DIRTY_SHARE ? [along] : [];
}

/** The quad whose sides are lines through most of the outline beside the sides of a rough one; dirt makes corners of its own. */
function alongSides({ x, y }: Outline, quad: Quad, tolerancePx: number): Quad | null {
  const lines: FittedLine[] = [];
  for (let k = 0; k < 4; k++) {
    const line = fitLine(pointsBeside(x, y, quad[k]!, quad[(k + 1) % 4]!), tolerancePx);
    if (line === null) return null;
    lines.push(line);
  }
  const found = lines.map((line, k) => crossing(lines[(k + 3) % 4]!, line)) as unknown as Quad;
  const side = norm(quad[1][0] - quad[0][0], quad[1][1] - quad[0][1]);
  return found.every((p, k) => norm(p[0] - quad[k]![0], p[1] - quad[k]![1]) < 0.5 * side) ? found : null;
}

/** The points of an outline that run along the middle of a side. */
function pointsBeside(x: Int32Array, y: Int32Array, a: Point, b: Point): Point[] {
  const length = norm(b[0] - a[0], b[1] - a[1]);
  const ux = (b[0] - a[0]) / length;
  const uy = (b[1] - a[1]) / length;
  const beside: Point[] = [];
  for (let i = 0; i < x.length; i++) {
    const dx = x[i]! - a[0];
    const dy = y[i]! - a[1];
    const along = dx * ux + dy * uy;
    if (!(along > 0.12 * length && along < 0.88 * length)) continue;
    if (Math.abs(dx * uy - dy * ux) < 0.2 * length) beside.push([x[i]!, y[i]!]);
  }
  return beside;
}

function farthestQuad({ x, y }: Outline, areaPx: number): Quad | null {
  const n = x.length;
  let mx = 0;
  let my = 0;
  for (let i = 0; i < n; i++) {
    mx += x[i]!;
    my += y[i]!;
  }
  const a = farthestFrom(x, y, mx / n, my / n);
  const c = farthestFrom(x, y, a[0], a[1]);
  const [ux, uy] = [c[0] - a[0], c[1] - a[1]];
  // farthest to either side of the diagonal
  let [b, d] = [0, 0];
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < n; i++) {
    const off = ux * (y[i]! - a[1]) - uy * (x[i]! - a[0]);
    if (off < least) {
      least = off;
      b = i;
    }
    if (off > most) {
      most = off;
      d = i;
    }
  }
  const diagonal = norm(ux, uy);
  if (most < 0.1 * square(diagonal) || -least < 0.1 * square(diagonal)) return null;
  const quadArea = (most - least) / 2;
  if (areaPx < 0.25 * quadArea || areaPx > 1.1 * quadArea + 2 * diagonal) return null;
  // Image y runs down: from a to c, b lies on the left as seen, so a, b, c, d runs clockwise.
  return [a, [x[b]!, y[b]!], c, [x[d]!, y[d]!]];
}

function farthestFrom(x: Int32Array, y: Int32Array, fromX: number, fromY: number): Point {
  let best = 0;
  let top = -1;
  for (let i = 0; i < x.length; i++) {
    const far = square(x[i]! - fromX) + square(y[i]! - fromY);
    if (far > top) {
      top = far;
      best = i;
    }
  }
  return [x[best]!, y[best]!];
}

/** How many points lie within `limit` of the line along a side. */
function nearSides(x: Int32Array, y: Int32Array, quad: Quad, limit: number): number {
  const near = new Uint8Array(x.length);
  for (let k = 0; k < 4; k++) markNear(x, y, quad[k]!, quad[(k + 1) % 4]!, limit, near);
  let count = 0;
  for (let i = 0; i < near.length; i++) count += near[i]!;
  return count;
}

function markNear(x: Int32Array, y: Int32Array, a: Point, b: Point, limit: number, near: Uint8Array): void {
  const ux = b[0] - a[0];
  const uy = b[1] - a[1];
  const length = Math.max(1e-9, norm(ux, uy));
  for (let i = 0; i < x.length; i++) {
    if (Math.abs((x[i]! - a[0]) * uy - (y[i]! - a[1]) * ux) / length < limit) near[i] = 1;
  }
}
