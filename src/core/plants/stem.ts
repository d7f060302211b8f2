import { norm } from '../geometry/norm.ts';
import type { Point } from '../geometry/point.ts';
import { type CameraView, leanAt } from './cameraView.ts';

/** A stem seen from the side: a thin line of green that runs away from the camera, from its foot on the soil upwards. */
export interface Stem {
  readonly footPx: Point;
  /** Where the line upwards ends, in a leaf or in nothing. */
  readonly topPx: Point;
  /** How clearly it stands out, 0 to 1. */
  readonly strength: number;
}

/** Nearer to the camera's foot stems are hidden under their leaves. */
export const LEAST_TANGENT = 0.6;
/** From a stem's foot to a place as the camera sees it, upwards and beside, in millimetres. */
export function fromFoot(p: Point, footPx: Point, view: CameraView): Point {
  const { away, tangent } = leanAt(view, footPx);
  const dx = p[0] - footPx[0];
  const dy = p[1] - footPx[1];
  return [
    ((dx * away[0] + dy * away[1]) * view.mmPerPx) / norm(1, tangent),
    (-dx * away[1] + dy * away[0]) * view.mmPerPx,
  ];
}
