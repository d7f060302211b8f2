import type { Point } from '../geometry/point.ts';
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

/**
 * Where the stem of a plant meets the soil. What stands up is displaced away from the camera, so the base is searched
 * from the crown along the line of sight toward the camera: by the crown's expected height, by the lowest green seen
 * there (in photos from the side the base lies at or before it), and by the row line when it is known; the three are
 * weighted by their precision.
 */
export function stemBase(group: PartGroup, view: CameraView, crownHeightMm: number, row: StripRow | null): StemBase {
  const { crownPx } = group;
  const { away, tangent } = leanAt(view, crownPx);
  const mm = view.mmPerPx;
  const besideSdMm = 6 + 0.06 * group.spanMm;
  const expected = groundBelow(view, crownPx, crownHeightMm);
  const s1 = Math.hypot(expected[0] - crownPx[0], expected[1] - crownPx[1]) * mm;
  const sd1 = Math.hypot(besideSdMm, HEIGHT_SHARE_SD * s1 + 3);
  let weight = 1 / sd1 ** 2;
  let sum = s1 * weight;

  const low = lowestGreenMm(group, view);
  const sd2 = 10 + 60 / (1 + (1.6 * tangent) ** 4);
  const s2 = Math.max(low, Math.min(s1, low + 15));
  weight += 1 / sd2 ** 2;
  sum += s2 / sd2 ** 2;

  if (row !== null) {
    const offset = crownPx[1] - row.y0 - row.slope * crownPx[0];
    const towardRow = away[1] - row.slope * away[0];
    if (tangent > 0.05 && Math.abs(towardRow) > 0.2) {
      const s3 = (offset / towardRow) * mm;
      const sd3 = Math.hypot(row.sdPx * mm, 5) / Math.abs(towardRow);
      weight += 1 / sd3 ** 2;
      sum += s3 / sd3 ** 2;
    }
  }
  const s = sum / weight;
  return {
    basePx: [crownPx[0] - (away[0] * s) / mm, crownPx[1] - (away[1] * s) / mm],
    alongSightSdMm: Math.max(5, 1 / Math.sqrt(weight)),
    besideSdMm,
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
