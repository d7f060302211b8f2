import { norm } from '../geometry/norm.ts';
import type { Point } from '../geometry/point.ts';
import type { Raster } from '../raster/raster.ts';
import { type CameraView, leanAt } from './cameraView.ts';
import type { StripRow } from './rowParts.ts';
import type { LeafMask } from './segmentLeaves.ts';
import { fromFoot, LEAST_TANGENT, type Stem } from './stem.ts';

/** The lowest piece of a stem, which is looked for; all lengths as the camera sees them. */
const PIECE_MM = 16;
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
  const low = threshold.soil + 2 * threshold.soilSd;
  const paleFrom = PALE * soilLight(index, raster, threshold);
  const rise = 1 / Math.max(0.05, 2.5 * threshold.soilSd);
  const at = (x: number, y: number): number => {
    const u = Math.round(x);
    const v = Math.round(y);
    if (u < 0 || v < 0 || u >= w || v >= h) return 0;
    const i = v * w + u;
    const pale = raster.data[4 * i]! + raster.data[4 * i + 1]! + raster.data[4 * i + 2]! > paleFrom;
    if (pale && data[i]! < STRAW) return 0;
    return Math.max(0, Math.min(1, (data[i]! - low) * rise));
  };
  const found: Candidate[] = [];
  const sure = low + 0.5 / rise;
  for (let x = 0; x < w; x++) {
    const middle = row.y0 + row.slope * x;
    const first = Math.max(0, Math.ceil(middle - reachPx));
    const last = Math.min(h - 1, Math.floor(middle + reachPx));
    // the viewing angle is widest at one of the ends
    if (Math.max(leanAt(view, [x, first]).tangent, leanAt(view, [x, last]).tangent) < LEAST_TANGENT) continue;
    for (let y = first; y <= last; y++) {
      if (data[y * w + x]! < sure) continue;
      const candidate = lowestPiece([x, y], at, view);
      if (candidate !== null) found.push(candidate);
    }
  }
  found.sort((a, b) => b.strength - a.strength);
  const kept: Candidate[] = [];
  for (const c of found) {
    if (kept.some((k) => apart(k.footPx, c.footPx, view) < APART_MM)) continue;
    kept.push(c);
  }
  const stems = kept.map((k) => traced(k, at, view));
  return stems.filter((s) => !stems.some((t) => t !== s && liesOn(s.footPx, t, view)));
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
  for (const lean of LEANS) {
    let on = 0;
    let left = 0;
    let right = 0;
    let n = 0;
    for (let t = 0; t <= PIECE_MM; t += 2) {
      const u = x + t * (up[0] + lean * beside[0]);
      const v = y + t * (up[1] + lean * beside[1]);
      on += Math.max(at(u, v), at(u + beside[0], v + beside[1]), at(u - beside[0], v - beside[1]));
      const weight = t < PIECE_MM / 2 ? 0.5 : 1.5;
      for (const d of BESIDE_MM) {
        left += (weight * at(u + d * beside[0], v + d * beside[1])) / 2;
        right += (weight * at(u - d * beside[0], v - d * beside[1])) / 2;
      }
      n++;
    }
    const strength = (on - Math.max(left, right) - Math.min(left, right)) / n - 0.5 * below;
    if (strength > (best?.strength ?? LEAST_STRENGTH)) best = { footPx: p, topPx: p, strength, lean };
  }
  return best;
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
