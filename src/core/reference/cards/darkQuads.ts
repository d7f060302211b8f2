import { crossing } from '../../geometry/fitLine.ts';
import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import { boxMean } from '../../raster/boxMean.ts';
import { labelComponents } from '../../raster/labelComponents.ts';
import type { Mask, Raster } from '../../raster/raster.ts';

export type Quad = readonly [Point, Point, Point, Point];

/** Neighbourhoods that "darker than around" is judged in, pixels: small and large markers. */
const RADII_PX = [16, 56];
/** A pixel is dark when its value is below this share of its neighbourhood's mean. */
const DARK_SHARE = 0.65;
const LEAST_SIDE_PX = 11;

/**
 * Four-cornered patches much darker than what surrounds them, corners to a pixel or two, clockwise in the picture: what
 * the black squares of marker cards are. Specks and ragged shadows are left out.
 *
 * @param bridgesPx patches are looked for as they are (0) and joined over gaps up to twice so wide: a straw across the
 *   border cuts a square in two.
 */
export function darkQuads(picture: Raster, bridgesPx: readonly number[]): Quad[] {
  const mask = darkMask(picture);
  return bridgesPx.flatMap((bridgePx) => quadsOf(mask, bridgePx));
}

/** Where a picture is much darker than around. */
function darkMask({ widthPx: w, heightPx: h, data }: Raster): Mask {
  const grey = new Uint8Array(w * h);
  for (let i = 0, k = 0; k < grey.length; i += 4, k++) grey[k] = (data[i]! + 2 * data[i + 1]! + data[i + 2]!) >> 2;
  const field = { widthPx: w, heightPx: h, data: grey };
  const dark = new Uint8Array(w * h);
  for (const radius of RADII_PX) {
    const mean = boxMean(field, radius).data;
    for (let k = 0; k < dark.length; k++) if (grey[k]! < DARK_SHARE * mean[k]!) dark[k] = 1;
  }
  return { widthPx: w, heightPx: h, data: dark };
}

function quadsOf(mask: Mask, bridgePx: number): Quad[] {
  const { widthPx: w, heightPx: h } = mask;
  const { labels, count, areasPx } = labelComponents(grown(mask, bridgePx));
  const boxes = boundingBoxes(labels.data, w, h, count);
  const quads: Quad[] = [];
  for (let label = 1; label <= count; label++) {
    const area = areasPx[label]!;
    const [x0, y0, x1, y1] = boxes.subarray(4 * label, 4 * label + 4) as unknown as [number, number, number, number];
    const [width, height] = [x1 - x0 + 1, y1 - y0 + 1];
    if (width < LEAST_SIDE_PX || height < LEAST_SIDE_PX || area < 0.15 * width * height) continue;
    if (width > 0.9 * w || height > 0.9 * h) continue;
    const quad = quadOf(outlineOf(labels.data, w, label, [x0, y0, x1, y1]), area);
    if (quad !== null) quads.push(bridgePx === 0 ? quad : shrunk(quad, bridgePx));
  }
  return quads;
}

/** A mask with every patch wider by `byPx` to all sides. */
function grown(mask: Mask, byPx: number): Mask {
  if (byPx === 0) return mask;
  const scaled = new Uint8Array(mask.data.length);
  for (let k = 0; k < scaled.length; k++) scaled[k] = 255 * mask.data[k]!;
  const { data } = boxMean({ ...mask, data: scaled }, byPx);
  for (let k = 0; k < scaled.length; k++) scaled[k] = data[k]! > 0 ? 1 : 0;
  return { ...mask, data: scaled };
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

function boundingBoxes(labels: Int32Array, w: number, h: number, count: number): Int32Array {
  const boxes = new Int32Array(4 * (count + 1));
  for (let k = 1; k <= count; k++) boxes.set([w, h, -1, -1], 4 * k);
  for (let y = 0, i = 0; y < h; y++) {
    for (let x = 0; x < w; x++, i++) {
      const at = 4 * labels[i]!;
      if (at === 0) continue;
      if (x < boxes[at]!) boxes[at] = x;
      if (y < boxes[at + 1]!) boxes[at + 1] = y;
      if (x > boxes[at + 2]!) boxes[at + 2] = x;
      if (y > boxes[at + 3]!) boxes[at + 3] = y;
    }
  }
  return boxes;
}

/** First and last pixel of a component in each row and column. */
function outlineOf(
  labels: Int32Array,
  w: number,
  label: number,
  box: readonly [number, number, number, number],
): Point[] {
  const [x0, y0, x1, y1] = box;
  const points: Point[] = [];
  const scan = (n: number, at: (i: number) => Point): void => {
    let first: Point | null = null;
    let last: Point | null = null;
    for (let i = 0; i < n; i++) {
      const [x, y] = at(i);
      if (labels[y * w + x] !== label) continue;
      first ??= [x, y];
      last = [x, y];
    }
    if (first !== null && last !== null) points.push(first, last);
  };
  for (let y = y0; y <= y1; y++) scan(x1 - x0 + 1, (i) => [x0 + i, y]);
  for (let x = x0; x <= x1; x++) scan(y1 - y0 + 1, (i) => [x, y0 + i]);
  return points;
}

/** The four farthest points of an outline, if straight sides between them account for it. */
function quadOf(outline: readonly Point[], areaPx: number): Quad | null {
  const middle: Point = [
    outline.reduce((sum, p) => sum + p[0], 0) / outline.length,
    outline.reduce((sum, p) => sum + p[1], 0) / outline.length,
  ];
  const farthest = (score: (p: Point) => number): Point =>
    outline.reduce((best, p) => (score(p) > score(best) ? p : best));
  const a = farthest((p) => norm(p[0] - middle[0], p[1] - middle[1]));
  const c = farthest((p) => norm(p[0] - a[0], p[1] - a[1]));
  const off = (p: Point): number => (c[0] - a[0]) * (p[1] - a[1]) - (c[1] - a[1]) * (p[0] - a[0]);
  const d = farthest(off);
  const b = farthest((p) => -off(p));
  const diagonal = norm(c[0] - a[0], c[1] - a[1]);
  if (off(d) < 0.1 * diagonal ** 2 || -off(b) < 0.1 * diagonal ** 2) return null;
  // Image y runs down: from a to c, b lies on the left as seen, so a, b, c, d runs clockwise.
  const quad: Quad = [a, b, c, d];
  const quadArea = (off(d) - off(b)) / 2;
  if (areaPx < 0.25 * quadArea || areaPx > 1.1 * quadArea + 2 * diagonal) return null;
  const limit = Math.max(1.6, 0.025 * diagonal);
  const near = outline.filter((p) => quad.some((q, k) => distanceToSide(p, q, quad[(k + 1) % 4]!) < limit)).length;
  return near >= 0.7 * outline.length ? quad : null;
}

function distanceToSide(p: Point, a: Point, b: Point): number {
  const [ux, uy] = [b[0] - a[0], b[1] - a[1]];
  return Math.abs((p[0] - a[0]) * uy - (p[1] - a[1]) * ux) / Math.max(1e-9, norm(ux, uy));
}
