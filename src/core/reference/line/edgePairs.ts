import { norm } from '../../geometry/norm.ts';
import { type ContrastEdges, edgeAt } from './contrastEdges.ts';

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
/** Of the edges that face it, each one is paired with the nearest so many. */
const MOST_FACING = 2;

/**
 * From each edge pixel walks up its gradient to the next edge that faces it (the stroke width idea of Epshtein, Ofek
 * and Wexler, CVPR 2010, here to vote for lines, not letters).
 *
 * @param polarity 1 for ribbons higher than what is beside them in this channel, -1 for lower
 */
export function edgePairs(edges: ContrastEdges, polarity: 1 | -1, maxWidthPx: number): EdgePairs {
  const { mask, rank, straight, gx, gy, size } = edges;
  const { widthPx: w, heightPx: h } = mask;
  const most = MOST_FACING * straight.length;
  const xs = new Float32Array(most);
  const ys = new Float32Array(most);
  const angles = new Float32Array(most);
  const widths = new Float32Array(most);
  let count = 0;
  for (let k = 0; k < straight.length; k++) {
    const i = straight[k]!;
    const x = edges.x[i]!;
    const y = edges.y[i]!;
    const m = polarity * size[i]!;
    const ux = gx[i]! / m;
    const uy = gy[i]! / m;
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
      const j = edgeAt(mask, rank, px, py);
      if (j < 0 || j === last) continue;
      const n = size[j]!;
      const vx = polarity * gx[j]!;
      const vy = polarity * gy[j]!;
      if (ux * vx + uy * vy > FACING * n) continue;
      last = j;
      const nx = ux - vx / n;
      const ny = uy - vy / n;
      xs[count] = (x + px) / 2;
      ys[count] = (y + py) / 2;
      let angle = Math.atan2(ny, nx);
      if (angle < 0) angle += Math.PI;
      if (angle >= Math.PI) angle -= Math.PI;
      angles[count] = angle;
      widths[count] = Math.abs((px - x) * nx + (py - y) * ny) / norm(nx, ny);
      count++;
      if (++found === MOST_FACING) break;
    }
  }
  return {
    count,
    x: xs.subarray(0, count),
    y: ys.subarray(0, count),
    angle: angles.subarray(0, count),
    widthPx: widths.subarray(0, count),
  };
}
