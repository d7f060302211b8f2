import { norm } from '../geometry/norm.ts';
import type { Point } from '../geometry/point.ts';
import { type CameraView, leanAt } from './cameraView.ts';
import type { LeafPart } from './leafParts.ts';

/** The row line in strip pixels: y = y0 + slope x, with the spread of the stems about it. */
export interface StripRow {
  readonly y0: number;
  readonly slope: number;
  readonly sdPx: number;
}

/**
 * How far a thing seen at `p` is from belonging to a stem on the row, in millimetres, when it may stand anywhere from
 * the soil to `tallestMm` above it (what stands up is displaced away from the camera).
 */
export function offRowMm(p: Point, row: StripRow, view: CameraView, tallestMm: number): number {
  const { away, tangent } = leanAt(view, p);
  const cos = 1 / norm(1, row.slope);
  const off = (p[1] - row.y0 - row.slope * p[0]) * cos * view.mmPerPx;
  // moving toward the camera by the lean of the tallest plant shifts the offset by this much
  const shift = -(away[1] - row.slope * away[0]) * cos * tangent * tallestMm;
  const low = Math.min(off, off + shift);
  const high = Math.max(off, off + shift);
  return low <= 0 && high >= 0 ? 0 : Math.min(Math.abs(low), Math.abs(high));
}

/** Splits the parts into those that can belong to plants on the row and the others. */
export function rowParts(
  parts: readonly LeafPart[],
  row: StripRow,
  view: CameraView,
  plant: { readonly tallestMm: number; readonly spanMm: number },
): { readonly on: readonly LeafPart[]; readonly off: readonly LeafPart[] } {
  const on: LeafPart[] = [];
  const off: LeafPart[] = [];
  for (const part of parts) {
    if (part.stem !== null) {
      const [x, y] = part.stem.footPx;
      const offMm = Math.abs(y - row.y0 - row.slope * x) * view.mmPerPx;
      (offMm <= 2.5 * row.sdPx * view.mmPerPx + 15 ? on : off).push(part);
      continue;
    }
    const { tangent } = leanAt(view, part.centrePx);
    const reachMm = (0.45 * plant.spanMm) / (1 + 2 * tangent) + 2 * row.sdPx * view.mmPerPx + 8;
    (offRowMm(part.centrePx, row, view, plant.tallestMm) <= reachMm ? on : off).push(part);
  }
  return { on, off };
}
