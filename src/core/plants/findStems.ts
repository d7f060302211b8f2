import { norm } from '../geometry/norm.ts';
import type { Point } from '../geometry/point.ts';
import type { Raster } from '../raster/raster.ts';
import { type CameraView, leanAt } from './cameraView.ts';
import type { StripRow } from './rowParts.ts';
import type { LeafMask } from './segmentLeaves.ts';
import { fromFoot, LEAST_TANGENT, type Stem } from './stem.ts';

/** The lowest piece of a stem, which is looked for; all lengths as the camera sees them. */
const PIECE_MM = 16;
const STEP_MM = 2;
const PLACES = PIECE_MM / STEP_MM + 1;
const BESIDE_MM = [4.5, 6] as const;
const BELOW_MM = [4, 6.5, 9] as const;
/** Sideways for each unit upwards: a stem leans by up to about 30 degrees. */
const LEANS = [-0.6, -0.4, -0.2, 0, 0.2, 0.4, 0.6] as const;
/** On a scale from soil (0) to clear green (1). */
const GREEN = 0.4;
const LEAST_STRENGTH = 0.6;
/** Vegetation index that straw reaches, stems lie above. */
const STRAW = -0.09;
/** Straw is paler than soil by this factor, stems are not. */
const PALE = 1.15;
const APART_MM = 9;
const GAP_MM = 9;
const LONGEST_MM = 200;
/** Feet are looked for this far to either side of the row. */
const REACH_MM = 70;

interface Candidate extends Stem {
  readonly lean: number;
}

/**
 * Stems of a row seen from the side, by a matched filter for their lowest piece: green on a line that leads away from the
 * camera, soil to its left, to its right and before it. The line is then followed upwards. Only green that stands out
 * from the soil's own spread counts, and pale straw does not. Straight down, where leaves hide the stems, none are found.
 *
 * @param row where the stems are to stand; feet far from it are not looked for.
 */
export function findStems(
  { index, threshold }: LeafMask,
  raster: Raster,
  view: CameraView,
  row: StripRow,
): readonly Stem[] {
  if (view.footPx === null) return [];
  const reachPx = REACH_MM / view.mmPerPx;
  const { widthPx: w, heightPx: h, data } = index;
  const rgba = raster.data;
  const low = threshold.soil + 2 * threshold.soilSd;
  const paleFrom = PALE * soilLight(index, raster, threshold);
  const rise = 1 / Math.max(0.05, 2.5 * threshold.soilSd);
  const at = (x: number, y: number): number => {
    if (!(x >= -0.5 && y >= -0.5 && x < w - 0.5 && y < h - 0.5)) return 0;
    const i = ((y + 0.5) | 0) * w + ((x + 0.5) | 0);
    const value = data[i]!;
    if (value <= low) return 0;
    if (value < STRAW && rgba[4 * i]! + rgba[4 * i + 1]! + rgba[4 * i + 2]! > paleFrom) return 0;
    return Math.min(1, (value - low) * rise);
  };
  const found: Candidate[] = [];
  const sure = low + 0.5 / rise;
  const { first, last, top, bottom } = searched(view, row, reachPx, w, h);
  for (let y = top; y <= bottom; y++) {
    for (let x = 0, i = y * w; x < w; x++, i++) {
      if (data[i]! < sure || y < first[x]! || y > last[x]!) continue;
      const candidate = lowestPiece([x, y], at, view);
      if (candidate !== null) found.push(candidate);
    }
  }
  // of two alike the one further to the left, then further up
  found.sort((a, b) => b.strength - a.strength || a.footPx[0] - b.footPx[0] || a.footPx[1] - b.footPx[1]);
  const kept: Candidate[] = [];
  for (const c of found) {
    if (kept.some((k) => apart(k.footPx, c.footPx, view) < APART_MM)) continue;
    kept.push(c);
  }
  const stems = kept.map((k) => traced(k, at, view));
  return stems.filter((s) => !stems.some((t) => t !== s && liesOn(s.footPx, t, view)));
}

/** First and last row of each column where feet are looked for, and of all: none where the sight is too steep. */
function searched(view: CameraView, row: StripRow, reachPx: number, w: number, h: number) {
  const first = new Int32Array(w).fill(h);
  const last = new Int32Array(w).fill(-1);
  let top = h;
  let bottom = -1;
  for (let x = 0; x < w; x++) {
    const middle = row.y0 + row.slope * x;
    const from = Math.max(0, Math.ceil(middle - reachPx));
    const to = Math.min(h - 1, Math.floor(middle + reachPx));
    // the viewing angle is widest at one of the ends
    if (Math.max(leanAt(view, [x, from]).tangent, leanAt(view, [x, to]).tangent) < LEAST_TANGENT) continue;
    first[x] = from;
    last[x] = to;
    top = Math.min(top, from);
    bottom = Math.max(bottom, to);
  }
  return { first, last, top, bottom };
}

/** Mean sum of the three channels over the soil. */
function soilLight({ data }: LeafMask['index'], raster: Raster, { soil, soilSd }: LeafMask['threshold']): number {
  let sum = 0;
  let n = 1;
  for (let i = 0; i < data.length; i += 97) {
    if (Math.abs(data[i]! - soil) > soilSd) continue;
    sum += raster.data[4 * i]! + raster.data[4 * i + 1]! + raster.data[4 * i + 2]!;
    n++;
  }
  return sum / n;
}

function axes(p: Point, view: CameraView): { readonly up: Point; readonly beside: Point; readonly tangent: number } {
  const { away, tangent } = leanAt(view, p);
  const mm = norm(1, tangent) / view.mmPerPx;
  return {
    up: [away[0] * mm, away[1] * mm],
    beside: [-away[1] / view.mmPerPx, away[0] / view.mmPerPx],
    tangent,
  };
}

function lowestPiece(p: Point, at: (x: number, y: number) => number, view: CameraView): Candidate | null {
  const { up, beside, tangent } = axes(p, view);
  if (tangent < LEAST_TANGENT) return null;
  const [x, y] = p;
  let below = 0;
  for (const mm of BELOW_MM) {
    below = Math.max(below, at(x - mm * up[0], y - mm * up[1]));
    if (below > GREEN) return null;
  }
  let best: Candidate | null = null;
  let most = LEAST_STRENGTH;
  for (const lean of LEANS) {
    // how much green may be missing on the line and be beside it, but for rounding
    const mostLoss = PLACES * (1 - 0.5 * below - most) + 1e-9;
    let loss = 0;
    for (let k = 0; k < PLACES && loss <= mostLoss; k++) {
      // the upper half first: there a leaf shows
      const n = (k + (PLACES >> 1)) % PLACES;
      const t = n * STEP_MM;
      const u = x + t * (up[0] + lean * beside[0]);
      const v = y + t * (up[1] + lean * beside[1]);
      const weight = t < PIECE_MM / 2 ? 0.5 : 1.5;
      for (let side = 0; side < BESIDE_MM.length; side++) {
        const d = BESIDE_MM[side]!;
        const left = (weight * at(u + d * beside[0], v + d * beside[1])) / 2;
        const right = (weight * at(u - d * beside[0], v - d * beside[1])) / 2;
        toLeft[BESIDE_MM.length * n + side] = left;
        toRight[BESIDE_MM.length * n + side] = right;
        loss += left + right;
      }
      if (loss > mostLoss) break;
      const on = Math.max(at(u, v), at(u + beside[0], v + beside[1]), at(u - beside[0], v - beside[1]));
      onLine[n] = on;
      loss += 1 - on;
    }
    if (loss > mostLoss) continue;
    const left = sumOf(toLeft);
    const right = sumOf(toRight);
    const strength = (sumOf(onLine) - Math.max(left, right) - Math.min(left, right)) / PLACES - 0.5 * below;
    if (strength <= most) continue;
    most = strength;
    best = { footPx: p, topPx: p, strength, lean };
  }
  return best;
}

/** Green on the line of a piece and to both sides of it, from the foot upwards. */
const onLine = new Float64Array(PLACES);
const toLeft = new Float64Array(BESIDE_MM.length * PLACES);
const toRight = new Float64Array(BESIDE_MM.length * PLACES);

function sumOf(values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  return sum;
}

/** Follows the line upwards, over gaps of a node's or a leaf's edge, as far as it goes. */
function traced({ footPx, strength, lean }: Candidate, at: (x: number, y: number) => number, view: CameraView): Stem {
  const { up, beside } = axes(footPx, view);
  // down to where the green ends
  let downMm = 0;
  while (downMm < BELOW_MM[0]) {
    const t = downMm + 0.5;
    const x = footPx[0] - t * (up[0] + lean * beside[0]);
    const y = footPx[1] - t * (up[1] + lean * beside[1]);
    if (at(x, y) <= GREEN) break;
    downMm = t;
  }
  let aside = 0;
  let topMm = 0;
  let topAside = 0;
  let way = lean;
  for (let t = 2; t <= LONGEST_MM && t - topMm <= GAP_MM; t += 2) {
    let best = 0;
    let bend = 0;
    for (const d of [0, -1, 1, -2, 2]) {
      const s = aside + 2 * way + d;
      const value = at(footPx[0] + t * up[0] + s * beside[0], footPx[1] + t * up[1] + s * beside[1]);
      if (value > best + 0.1) {
        best = value;
        bend = d;
      }
    }
    aside += 2 * way;
    if (best <= GREEN) continue;
    aside += bend / 2;
    way += bend / 20;
    topMm = t;
    topAside = aside;
  }
  const topPx: Point = [
    footPx[0] + topMm * up[0] + topAside * beside[0],
    footPx[1] + topMm * up[1] + topAside * beside[1],
  ];
  return {
    footPx: [footPx[0] - downMm * (up[0] + lean * beside[0]), footPx[1] - downMm * (up[1] + lean * beside[1])],
    topPx,
    strength,
  };
}

function apart(p: Point, q: Point, view: CameraView): number {
  const { up, beside } = axes(p, view);
  const dx = q[0] - p[0];
  const dy = q[1] - p[1];
  const mm2 = view.mmPerPx * view.mmPerPx;
  const uu = up[0] * up[0] + up[1] * up[1];
  const s = (dx * up[0] + dy * up[1]) / uu;
  const b = (dx * beside[0] + dy * beside[1]) * mm2;
  return norm(s / 2, b);
}

/** Whether a place lies on a stem above its foot. */
function liesOn(p: Point, { footPx, topPx }: Stem, view: CameraView): boolean {
  const [length, aside] = fromFoot(topPx, footPx, view);
  const [s, b] = fromFoot(p, footPx, view);
  return s > 2 && s < length && Math.abs(b - (aside * s) / length) < 5;
}
