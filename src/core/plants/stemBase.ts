import { norm } from '../geometry/norm.ts';
import type { Point } from '../geometry/point.ts';
import { square } from '../statistics/square.ts';
import { type CameraView, groundBelow, leanAt } from './cameraView.ts';
import type { PartGroup } from './partGroup.ts';
import type { StripRow } from './rowParts.ts';

export interface StemBase {
  readonly basePx: Point;
  /** Standard deviation of the base along the line of sight on the ground, and beside it, in millimetres. */
  readonly alongSightSdMm: number;
  readonly besideSdMm: number;
}

const HEIGHT_SHARE_SD = 0.35;
const ALONG_ROW_BLUR_MM = 25;
/** A planter sets its seeds within about this much of its line (standard deviation). */
const FURROW_SD_MM = 8;
/** A stem's seen foot. */
const FOOT_SD_MM = { sight: 8, beside: 5 } as const;

/**
 * Where the stem of a plant meets the soil. What stands up is displaced away from the camera, so the base is searched
 * from the crown along the line of sight toward the camera: by the crown's expected height, and by the lowest green seen
 * there (in photos from the side the base lies at or before it), weighted by their precision. The row line, when it is
 * known, then pulls the base across itself as far as both their spreads allow (a Kalman update with one measurement):
 * what the bases of a photo are spread about the line beyond a furrow's width is doubt of their places, not of the line.
 */
export function stemBase(group: PartGroup, view: CameraView, crownHeightMm: number, row: StripRow | null): StemBase {
  const { crownPx, stems } = group;
  if (stems.length > 0) {
    const best = stems.reduce((a, b) => (b.strength > a.strength ? b : a));
    return { basePx: best.footPx, alongSightSdMm: FOOT_SD_MM.sight, besideSdMm: FOOT_SD_MM.beside };
  }
  const { away, tangent } = leanAt(view, crownPx);
  const mm = view.mmPerPx;
  const besideSdMm = 6 + 0.06 * group.spanMm;
  const expected = groundBelow(view, crownPx, crownHeightMm);
  const s1 = norm(expected[0] - crownPx[0], expected[1] - crownPx[1]) * mm;
  const w1 = 1 / square(norm(besideSdMm, HEIGHT_SHARE_SD * s1 + 3));
  // along the row a neighbour's leaf is easily taken for the lowest green
  const low = lowestGreenMm(group, view);
  const blurMm = Math.abs(away[1]) < 0.5 ? ALONG_ROW_BLUR_MM : 10;
  const w2 = 1 / square(blurMm + 60 / (1 + square(square(1.6 * tangent))));
  const s2 = Math.max(low, Math.min(s1, low + 15));
  const s = (w1 * s1 + w2 * s2) / (w1 + w2);
  const free: Point = [crownPx[0] - (away[0] * s) / mm, crownPx[1] - (away[1] * s) / mm];
  const sightSdMm = Math.max(5, 1 / Math.sqrt(w1 + w2));
  if (row === null) return { basePx: free, alongSightSdMm: sightSdMm, besideSdMm };

  // the unit normal of the row, and the two axes of doubt seen along it
  const rise = norm(1, row.slope);
  const normal: Point = [-row.slope / rise, 1 / rise];
  const off = (free[1] - row.y0 - row.slope * free[0]) / rise;
  const onSight = normal[0] * away[0] + normal[1] * away[1];
  const onBeside = -normal[0] * away[1] + normal[1] * away[0];
  const rowSdMm = row.sdPx * mm;
  const stemsSdMm = Math.min(FURROW_SD_MM, rowSdMm);
  const expected2 = square(onSight * sightSdMm) + square(onBeside * besideSdMm);
  const more2 = Math.max(0, square(rowSdMm) - square(stemsSdMm) - expected2);
  const sight2 = square(sightSdMm) + more2;
  const beside2 = square(besideSdMm) + more2;
  const all = expected2 + more2 + square(stemsSdMm);
  const alongSight = (-off * onSight * sight2) / all;
  const beside = (-off * onBeside * beside2) / all;
  return {
    basePx: [free[0] + alongSight * away[0] - beside * away[1], free[1] + alongSight * away[1] + beside * away[0]],
    alongSightSdMm: Math.sqrt(sight2 * (1 - (onSight * onSight * sight2) / all)),
    besideSdMm: Math.sqrt(beside2 * (1 - (onBeside * onBeside * beside2) / all)),
  };
}

/** How far the group's green reaches from its crown toward the camera, in millimetres on the soil plane. */
export function lowestGreenMm({ crownPx, outlinePx }: PartGroup, view: CameraView): number {
  const { away } = leanAt(view, crownPx);
  let low = Number.NEGATIVE_INFINITY;
  for (const [x, y] of outlinePx) {
    low = Math.max(low, -((x - crownPx[0]) * away[0] + (y - crownPx[1]) * away[1]) * view.mmPerPx);
  }
  return low;
}
