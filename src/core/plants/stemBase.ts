import type { Point } from '../geometry/point.ts';
import { type CameraView, groundBelow, leanAt } from './cameraView.ts';
import type { PartGroup } from './partGroup.ts';

export interface StemBase {
  readonly basePx: Point;
  /** Standard deviation of the base along the line of sight on the ground, and beside it, in millimetres. */
  readonly alongSightSdMm: number;
  readonly besideSdMm: number;
}

/** Crown height over the apparent span of a plant: 0.6 to 0.9 from hook to first trifoliate in bean. Common practice, no source. */
export const HEIGHT_PER_SPAN = 0.7;
const HEIGHT_SHARE_SD = 0.35;

/**
 * Where the stem of a plant meets the soil. What stands up is displaced away from the camera, so the base is searched
 * from the crown along the line of sight toward the camera: from the crown's expected height, from the lowest green
 * seen there (sharp in photos from the side, where the stem shows), and from the row line when it is known; the three
 * are weighted by their precision.
 *
 * @param rowPx the row line in strip pixels, y = y0 + slope x, with its spread.
 */
export function stemBase(
  group: PartGroup,
  view: CameraView,
  crownHeightMm: number,
  rowPx: { readonly y0: number; readonly slope: number; readonly sdPx: number } | null,
): StemBase {
  const crown = group.centrePx;
  const { away, tangent } = leanAt(view, crown);
  const mm = view.mmPerPx;
  const besideSdMm = 6 + 0.08 * group.spanMm;
  if (tangent < 0.02) return { basePx: crown, alongSightSdMm: besideSdMm, besideSdMm };

  const expected = groundBelow(view, crown, crownHeightMm);
  const s1 = Math.hypot(expected[0] - crown[0], expected[1] - crown[1]) * mm;
  const sd1 = Math.hypot(besideSdMm, HEIGHT_SHARE_SD * s1 + 3);
  let weight = 1 / sd1 ** 2;
  let sum = s1 * weight;

  // the lowest green near the line of sight; a drooping leaf reaches as low as the base where the view is steep
  let low = Number.NEGATIVE_INFINITY;
  for (const [x, y] of group.outlinePx) {
    const toward = -((x - crown[0]) * away[0] + (y - crown[1]) * away[1]) * mm;
    if (toward > low) low = toward;
  }
  const sd2 = 8 + 45 / (1 + (2 * tangent) ** 3);
  weight += 1 / sd2 ** 2;
  sum += low / sd2 ** 2;

  if (rowPx !== null) {
    const offset = crown[1] - rowPx.y0 - rowPx.slope * crown[0];
    const towardRow = away[1] - rowPx.slope * away[0];
    if (Math.abs(towardRow) > 0.2) {
      const s3 = (offset / towardRow) * mm;
      const sd3 = Math.hypot(rowPx.sdPx * mm, 8) / Math.abs(towardRow);
      weight += 1 / sd3 ** 2;
      sum += s3 / sd3 ** 2;
    }
  }
  const s = Math.max(0, sum / weight);
  return {
    basePx: [crown[0] - (away[0] * s) / mm, crown[1] - (away[1] * s) / mm],
    alongSightSdMm: Math.max(5, 1 / Math.sqrt(weight)),
    besideSdMm,
  };
}
