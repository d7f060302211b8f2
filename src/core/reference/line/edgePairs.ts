import { norm } from '../../geometry/norm.ts';
import type { Field } from '../../raster/raster.ts';

/** Two facing edges and the point midway: a possible cross-section of a ribbon. Struct of arrays. */
export interface EdgePairs {
  readonly count: number;
  readonly x: Float32Array;
  readonly y: Float32Array;
  /** Angle of the normal, radians in [0, pi). */
  readonly angle: Float32Array;
  readonly widthPx: Float32Array;
}

const FACING = -0.8;

/**
 * From each edge pixel walks up its gradient to the next edge that faces it (the stroke width idea of Epshtein, Ofek
 * and Wexler, CVPR 2010, here to vote for lines, not letters). Edges are local maxima of the Sobel magnitude among the
 * strongest `edgeShare` of the picture.
 *
 * @param polarity 1 for ribbons higher than what is beside them in this channel, -1 for lower
 */
export function edgePairs(
  field: Field<Int32Array>,
  polarity: 1 | -1,
  maxWidthPx: number,
  edgeShare: number,
): EdgePairs {
  const { widthPx: w, heightPx: h, data } = field;
  const gx = new Int16Array(w * h);
  const gy = new Int16Array(w * h);
  const size = new Uint16Array(w * h);
  const histogram = new Uint32Array(8192);
  for (let y = 1; y < h - 1; y++) {
    for (let x = 1, i = y * w + 1; x < w - 1; x++, i++) {
      const a = data[i - w - 1]!;
      const c = data[i - w + 1]!;
      const f = data[i + w - 1]!;
      const k = data[i + w + 1]!;
      const dx = c + 2 * data[i + 1]! + k - a - 2 * data[i - 1]! - f;
      const dy = f + 2 * data[i + w]! + k - a - 2 * data[i - w]! - c;
      gx[i] = dx * polarity;
      gy[i] = dy * polarity;
      const m = Math.sqrt(dx * dx + dy * dy) | 0;
      size[i] = m;
      histogram[m < 8192 ? m : 8191]!++;
    }
  }
  const least = levelOfTop(histogram, edgeShare);
  const edge = new Uint8Array(w * h);
  for (let y = 2; y < h - 2; y++) {
    for (let x = 2, i = y * w + 2; x < w - 2; x++, i++) {
      const m = size[i]!;
      if (m < least) continue;
      const ax = Math.abs(gx[i]!);
      const ay = Math.abs(gy[i]!);
      const step = ay * 2.4 < ax ? 1 : ax * 2.4 < ay ? w : gx[i]! > 0 === gy[i]! > 0 ? w + 1 : w - 1;
      if (m >= size[i - step]! && m > size[i + step]!) edge[i] = 1;
    }
  }
  return facing(gx, gy, size, edge, w, h, maxWidthPx);
}

function facing(
  gx: Int16Array,
  gy: Int16Array,
  size: Uint16Array,
  edge: Uint8Array,
  w: number,
  h: number,
  maxWidthPx: number,
): EdgePairs {
  const xs: number[] = [];
  const ys: number[] = [];
  const angles: number[] = [];
  const widths: number[] = [];
  for (let y = 2; y < h - 2; y++) {
    for (let x = 2, i = y * w + 2; x < w - 2; x++, i++) {
      if (edge[i] === 0) continue;
      const m = size[i]!;
      const ux = gx[i]! / m;
      const uy = gy[i]! / m;
      if (!goesOn(edge, gx, gy, size, x, y, ux, uy, w, h)) continue;
      let found = 0;
      let last = i;
      let qx = x + 0.5 + ux;
      let qy = y + 0.5 + uy;
      for (let t = 2; t <= maxWidthPx; t++) {
        qx += ux;
        qy += uy;
        const px = qx | 0;
        const py = qy | 0;
        if (px < 2 || py < 2 || px >= w - 2 || py >= h - 2) break;
        const j = py * w + px;
        if (edge[j] === 0 || j === last) continue;
        const n = size[j]!;
        if (ux * gx[j]! + uy * gy[j]! > FACING * n) continue;
        last = j;
        const nx = ux - gx[j]! / n;
        const ny = uy - gy[j]! / n;
        const across = Math.abs((px - x) * nx + (py - y) * ny) / norm(nx, ny);
        xs.push((x + px) / 2);
        ys.push((y + py) / 2);
        let angle = Math.atan2(ny, nx);
        if (angle < 0) angle += Math.PI;
        if (angle >= Math.PI) angle -= Math.PI;
        angles.push(angle);
        widths.push(across);
        if (++found === 2) break;
      }
    }
  }
  return {
    count: xs.length,
    x: Float32Array.from(xs),
    y: Float32Array.from(ys),
    angle: Float32Array.from(angles),
    widthPx: Float32Array.from(widths),
  };
}

/** How far along the edge, px, and how alike in direction, the edge must be met again to count as one that goes on. */
const AHEAD_PX = [-6, -3, 3, 6] as const;
const ALIKE = 0.85;

/**
 * Whether an edge pixel belongs to an edge that goes on straight for a few pixels: sides of a ribbon do, most edges of
 * crumbs of soil do not, and those are the many. Met again at two of four places along it, a pixel to either side.
 */
function goesOn(
  edge: Uint8Array,
  gx: Int16Array,
  gy: Int16Array,
  size: Uint16Array,
  x: number,
  y: number,
  ux: number,
  uy: number,
  w: number,
  h: number,
): boolean {
  let met = 0;
  for (const ahead of AHEAD_PX) {
    const cx = x - uy * ahead + 0.5;
    const cy = y + ux * ahead + 0.5;
    for (let side = -1; side <= 1; side++) {
      const px = (cx + side * ux) | 0;
      const py = (cy + side * uy) | 0;
      if (px < 2 || py < 2 || px >= w - 2 || py >= h - 2) continue;
      const j = py * w + px;
      if (edge[j] === 0 || ux * gx[j]! + uy * gy[j]! < ALIKE * size[j]!) continue;
      if (++met === 2) return true;
      break;
    }
  }
  return false;
}

/** The magnitude that the strongest `share` of the pixels reach; at least 24 (about 3 grey levels a channel). */
function levelOfTop(histogram: Uint32Array, share: number): number {
  let total = 0;
  for (const n of histogram) total += n;
  let above = 0;
  for (let i = histogram.length - 1; i > 24; i--) {
    above += histogram[i]!;
    if (above > total * share) return i;
  }
  return 24;
}
