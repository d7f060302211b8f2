import { norm } from '../geometry/norm.ts';
import type { Point } from '../geometry/point.ts';
import { chamferDistance } from '../raster/chamferDistance.ts';
import { cutEdges } from '../raster/cutEdges.ts';
import type { Raster } from '../raster/raster.ts';
import { smoothMask } from '../raster/smoothMask.ts';
import { type Basins, splitBasins } from '../raster/splitBasins.ts';
import { square } from '../statistics/square.ts';
import type { LeafMask } from './segmentLeaves.ts';
import type { Stem } from './stem.ts';

/** One lobe of green: a leaf, a cotyledon, a hook, or a whole plant where the photo resolves no more. */
export interface LeafPart {
  readonly id: number;
  readonly areaMm2: number;
  readonly centrePx: Point;
  /** Full axes of the ellipse with the same second moments, in millimetres, and the direction of the long one. */
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly axis: Point;
  /**
   * Skewness along the long axis (0 for an ellipse): a leaf is broad at its petiole and runs out in a tip, and `axis`
   * points to the tip.
   */
  readonly taper: number;
  /** Extreme pixels in sixteen directions, which stand for the outline. */
  readonly outlinePx: readonly Point[];
  /** Share of the outline's polygon that is green. */
  readonly solidity: number;
  /** Mean vegetation index, and mean chromatic red and green. */
  readonly index: number;
  readonly red: number;
  readonly green: number;
  /** Whether the part touches the border of the strip or of the photo. */
  readonly cut: boolean;
  /** The part is no leaf but a stem. */
  readonly stem: Stem | null;
}

/** Two parts that touch: how deep their waist is, as a share of the thinner part's half width. */
export interface PartContact {
  readonly a: number;
  readonly b: number;
  readonly passShare: number;
}

export interface LeafParts {
  readonly parts: readonly LeafPart[];
  readonly contacts: readonly PartContact[];
}

const PASS_SHARE = 0.8;
/** Relative step of light that parts two leaves; veins and texture stay below. */
const EDGE_STEP = 0.3;
const SMALLEST_MM2 = 18;
const SMALLEST_PX = 5;
export const DIRECTIONS: readonly Point[] = Array.from({ length: 16 }, (_, k) => [
  Math.cos((k * Math.PI) / 8),
  Math.sin((k * Math.PI) / 8),
]);

/** Cuts the leaf mask at its waists and measures the lobes; specks are dropped. */
export function leafParts({ mask, index }: LeafMask, raster: Raster, mmPerPx: number): LeafParts {
  const lobes = smoothMask(cutEdges(mask, raster, EDGE_STEP));
  const distance = chamferDistance(lobes);
  const basins = splitBasins(lobes, distance, PASS_SHARE);
  const raw = measure(basins, index.data, raster);
  const newId = new Int32Array(basins.count + 1).fill(-1);
  const parts: LeafPart[] = [];
  for (let k = 1; k <= basins.count; k++) {
    const m = raw[k]!;
    if (m.n < SMALLEST_PX || m.n * square(mmPerPx) < SMALLEST_MM2) continue;
    newId[k] = parts.length;
    parts.push(finish(m, parts.length, basins.labels.widthPx, mmPerPx));
  }
  const contacts = findContacts(basins, distance.data, newId);
  return { parts, contacts };
}

/** Some of the parts, numbered anew, with the contacts among them. */
export function subset(
  { contacts }: LeafParts,
  chosen: readonly LeafPart[],
): LeafParts & { readonly oldIds: readonly number[] } {
  const ids = new Map(chosen.map((p, k) => [p.id, k]));
  return {
    parts: chosen.map((p, k) => ({ ...p, id: k })),
    contacts: contacts.flatMap(({ a, b, passShare }) =>
      ids.has(a) && ids.has(b) ? [{ a: ids.get(a)!, b: ids.get(b)!, passShare }] : [],
    ),
    oldIds: chosen.map((p) => p.id),
  };
}

interface Sums {
  n: number;
  x: number;
  y: number;
  xx: number;
  yy: number;
  xy: number;
  xxx: number;
  xxy: number;
  xyy: number;
  yyy: number;
  index: number;
  red: number;
  green: number;
  cut: boolean;
  readonly reach: Float64Array;
  readonly extreme: Int32Array;
}

function measure(basins: Basins, index: Float32Array, raster: Raster): readonly Sums[] {
  const { widthPx: w, heightPx: h, data: labels } = basins.labels;
  const out: Sums[] = Array.from({ length: basins.count + 1 }, () => ({
    n: 0,
    x: 0,
    y: 0,
    xx: 0,
    yy: 0,
    xy: 0,
    xxx: 0,
    xxy: 0,
    xyy: 0,
    yyy: 0,
    index: 0,
    red: 0,
    green: 0,
    cut: false,
    reach: new Float64Array(16).fill(Number.NEGATIVE_INFINITY),
    extreme: new Int32Array(16),
  }));
  for (const i of basins.inside) {
    const label = labels[i]!;
    const s = out[label]!;
    const x = i % w;
    const y = (i - x) / w;
    s.n++;
    s.x += x;
    s.y += y;
    s.xx += x * x;
    s.yy += y * y;
    s.xy += x * y;
    s.xxx += x * x * x;
    s.xxy += x * x * y;
    s.xyy += x * y * y;
    s.yyy += y * y * y;
    s.index += index[i]!;
    const sum = raster.data[4 * i]! + raster.data[4 * i + 1]! + raster.data[4 * i + 2]! + 1;
    s.red += raster.data[4 * i]! / sum;
    s.green += raster.data[4 * i + 1]! / sum;
    const edge = x === 0 || y === 0 || x === w - 1 || y === h - 1;
    if (edge || raster.data[4 * (i - 1) + 3] === 0 || raster.data[4 * (i + 1) + 3] === 0) s.cut = true;
    else if (raster.data[4 * (i - w) + 3] === 0 || raster.data[4 * (i + w) + 3] === 0) s.cut = true;
    // only outline pixels can be extreme
    if (!edge && labels[i - 1] === label && labels[i + 1] === label) {
      if (labels[i - w] === label && labels[i + w] === label) continue;
    }
    for (let k = 0; k < 16; k++) {
      const reach = x * DIRECTIONS[k]![0] + y * DIRECTIONS[k]![1];
      if (reach > s.reach[k]!) {
        s.reach[k] = reach;
        s.extreme[k] = i;
      }
    }
  }
  return out;
}

function finish(s: Sums, id: number, w: number, mmPerPx: number): LeafPart {
  const cx = s.x / s.n;
  const cy = s.y / s.n;
  // each pixel is a square: 1/12 px2 of its own
  const vx = Math.max(0, s.xx / s.n - cx * cx) + 1 / 12;
  const vy = Math.max(0, s.yy / s.n - cy * cy) + 1 / 12;
  const vxy = s.xy / s.n - cx * cy;
  const mean = (vx + vy) / 2;
  const spread = norm((vx - vy) / 2, vxy);
  const angle = 0.5 * Math.atan2(2 * vxy, vx - vy);
  const skew = skewAlong(s, cx, cy, Math.cos(angle), Math.sin(angle));
  const toTip = skew < 0 ? -1 : 1;
  const outlinePx = Array.from(s.extreme, (i): Point => [i % w, Math.floor(i / w)]);
  return {
    id,
    areaMm2: s.n * mmPerPx * mmPerPx,
    centrePx: [cx, cy],
    lengthMm: 4 * Math.sqrt(mean + spread) * mmPerPx,
    widthMm: 4 * Math.sqrt(Math.max(1 / 12, mean - spread)) * mmPerPx,
    axis: [toTip * Math.cos(angle), toTip * Math.sin(angle)],
    taper: Math.abs(skew),
    outlinePx,
    solidity: Math.min(1, s.n / (polygonArea(outlinePx) + polygonPerimeter(outlinePx) / 2 + 1)),
    index: s.index / s.n,
    red: s.red / s.n,
    green: s.green / s.n,
    cut: s.cut,
    stem: null,
  };
}

/** Third standardized moment of the pixels along a direction. */
function skewAlong(s: Sums, cx: number, cy: number, dx: number, dy: number): number {
  const xx = s.xx / s.n;
  const xy = s.xy / s.n;
  const yy = s.yy / s.n;
  const xxx = s.xxx / s.n - 3 * cx * xx + 2 * cx * cx * cx;
  const xxy = s.xxy / s.n - 2 * cx * xy - cy * xx + 2 * cx * cx * cy;
  const xyy = s.xyy / s.n - 2 * cy * xy - cx * yy + 2 * cx * cy * cy;
  const yyy = s.yyy / s.n - 3 * cy * yy + 2 * cy * cy * cy;
  const third = xxx * dx * dx * dx + 3 * xxy * dx * dx * dy + 3 * xyy * dx * dy * dy + yyy * dy * dy * dy;
  const second = (xx - cx * cx) * dx * dx + 2 * (xy - cx * cy) * dx * dy + (yy - cy * cy) * dy * dy;
  return second <= 0 ? 0 : third / (second * Math.sqrt(second));
}

function polygonArea(points: readonly Point[]): number {
  let twice = 0;
  for (let k = 0; k < points.length; k++) {
    const [x0, y0] = points[k]!;
    const [x1, y1] = points[(k + 1) % points.length]!;
    twice += x0 * y1 - x1 * y0;
  }
  return Math.abs(twice) / 2;
}

function polygonPerimeter(points: readonly Point[]): number {
  return points.reduce((sum, [x, y], k) => {
    const [u, v] = points[(k + 1) % points.length]!;
    return sum + norm(u - x, v - y);
  }, 0);
}

function findContacts(basins: Basins, distance: Int32Array, newId: Int32Array): readonly PartContact[] {
  const { widthPx: w, data: labels } = basins.labels;
  const pass = new Map<number, number>();
  const see = (i: number, j: number): void => {
    const a = labels[i]!;
    const b = labels[j]!;
    if (b === 0 || a === b) return;
    const key = Math.min(a, b) * (basins.count + 1) + Math.max(a, b);
    pass.set(key, Math.max(pass.get(key) ?? 0, Math.min(distance[i]!, distance[j]!)));
  };
  for (const i of basins.inside) {
    const x = i % w;
    if (x + 1 < w) see(i, i + 1);
    if (i + w < labels.length) {
      see(i, i + w);
      if (x > 0) see(i, i + w - 1);
      if (x + 1 < w) see(i, i + w + 1);
    }
  }
  const out: PartContact[] = [];
  for (const [key, height] of pass) {
    const b = key % (basins.count + 1);
    const a = (key - b) / (basins.count + 1);
    if (newId[a]! < 0 || newId[b]! < 0) continue;
    const summit = Math.min(basins.summits[a]!, basins.summits[b]!);
    out.push({ a: newId[a]!, b: newId[b]!, passShare: height / summit });
  }
  return out;
}
