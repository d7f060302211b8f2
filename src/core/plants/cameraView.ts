import { norm } from '../geometry/norm.ts';
import type { Point } from '../geometry/point.ts';
import type { Strip } from '../straighten/strip.ts';

/** The camera in strip pixels: the ground point below it and its height. Null: straight above everything. */
export interface CameraView {
  readonly footPx: Point | null;
  readonly heightPx: number;
  readonly mmPerPx: number;
}

export function cameraView({ camera, mmPerPx, alongAtLeftM, acrossAtTopM }: Strip): CameraView {
  if (camera === null || !(camera.heightM > 0)) return { footPx: null, heightPx: Number.POSITIVE_INFINITY, mmPerPx };
  const pxPerM = 1000 / mmPerPx;
  return {
    footPx: [(camera.alongM - alongAtLeftM) * pxPerM, (acrossAtTopM - camera.acrossM) * pxPerM],
    heightPx: camera.heightM * pxPerM,
    mmPerPx,
  };
}

/** Direction away from the camera's foot, and the tangent of the viewing angle from the vertical, at a strip place. */
export function leanAt(view: CameraView, [x, y]: Point): { readonly away: Point; readonly tangent: number } {
  if (view.footPx === null) return { away: [0, 1], tangent: 0 };
  const dx = x - view.footPx[0];
  const dy = y - view.footPx[1];
  const d = norm(dx, dy);
  if (d < 1e-6) return { away: [0, 1], tangent: 0 };
  return { away: [dx / d, dy / d], tangent: d / view.heightPx };
}

/** The soil place under a thing seen at `p` that stands `heightMm` above the soil. */
export function groundBelow(view: CameraView, p: Point, heightMm: number): Point {
  if (view.footPx === null) return p;
  const k = heightMm / view.mmPerPx / view.heightPx;
  return [p[0] - (p[0] - view.footPx[0]) * k, p[1] - (p[1] - view.footPx[1]) * k];
}

/**
 * Distance of two near strip places as the camera sees it, in millimetres: the direction away from the camera is
 * shortened by the cosine of the viewing angle, so that upright plants keep their proportions in a photo from the side.
 */
export function apparentMm(view: CameraView, p: Point, q: Point): number {
  const dx = q[0] - p[0];
  const dy = q[1] - p[1];
  if (view.footPx === null) return norm(dx, dy) * view.mmPerPx;
  const { away, tangent } = leanAt(view, [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2]);
  const radial = dx * away[0] + dy * away[1];
  const cos2 = 1 / (1 + tangent * tangent);
  return Math.sqrt(Math.max(0, dx * dx + dy * dy - radial * radial * (1 - cos2))) * view.mmPerPx;
}
