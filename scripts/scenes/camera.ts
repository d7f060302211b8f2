import type { CameraSpec } from './spec.ts';
import { add, cross, dot, scale, sub, unit, type Vec3 } from './vector.ts';

/**
 * A pinhole camera over the ground frame (along, across to the left, up). Axes as the contract has them: x right,
 * y down, z into the scene; pixel centres at integers of the upright picture.
 */
export type Camera = {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focalPx: number;
  readonly cxPx: number;
  readonly cyPx: number;
  readonly position: Vec3;
  readonly right: Vec3;
  readonly down: Vec3;
  readonly ahead: Vec3;
};

const FULL_FRAME_DIAGONAL_MM = Math.hypot(36, 24);

export function makeCamera(spec: CameraSpec, widthPx: number, heightPx: number): Camera {
  const focalPx = (spec.focal35 / FULL_FRAME_DIAGONAL_MM) * Math.hypot(widthPx, heightPx);
  const position: Vec3 = [spec.standAlongM, spec.standAcrossM, spec.heightM];
  const ahead = unit(sub([spec.aimAlongM, spec.aimAcrossM, 0], position));
  // Straight down the picture's up is away from the standing person (the left of the reference); along it is ahead.
  const upHint: Vec3 = spec.view === 'down' ? [0, spec.faces, 0] : [0, 0, 1];
  const level = unit(cross(ahead, upHint));
  const levelDown = cross(ahead, level);
  const roll = (spec.rollDeg * Math.PI) / 180;
  const right = add(scale(level, Math.cos(roll)), scale(levelDown, Math.sin(roll)));
  const down = cross(ahead, right);
  return {
    widthPx,
    heightPx,
    focalPx,
    cxPx: (widthPx - 1) / 2,
    cyPx: (heightPx - 1) / 2,
    position,
    right,
    down,
    ahead,
  };
}

/** Pixel of a ground-frame point, and its depth; depth at or below zero is behind the camera. */
export function project(camera: Camera, point: Vec3): { xPx: number; yPx: number; depthM: number } {
  const d = sub(point, camera.position);
  const depthM = dot(d, camera.ahead);
  return {
    xPx: camera.cxPx + (camera.focalPx * dot(d, camera.right)) / depthM,
    yPx: camera.cyPx + (camera.focalPx * dot(d, camera.down)) / depthM,
    depthM,
  };
}

/** Where the ray of a pixel meets the mean soil plane; null at or above the horizon. */
export function groundAt(camera: Camera, xPx: number, yPx: number): Vec3 | null {
  const ray = add(
    add(
      scale(camera.right, (xPx - camera.cxPx) / camera.focalPx),
      scale(camera.down, (yPx - camera.cyPx) / camera.focalPx),
    ),
    camera.ahead,
  );
  if (ray[2] >= -1e-3) return null;
  return add(camera.position, scale(ray, -camera.position[2] / ray[2]));
}

/** Row-major map from photo pixels (x, y, 1) to (along, across, 1) on the mean soil plane, scaled so that h33 = 1. */
export function photoToGround(camera: Camera): number[] {
  const { position: p, right, down, ahead, focalPx: f, cxPx, cyPx } = camera;
  // Ray of a pixel = R (x - cx, y - cy, f); ground = p - ray * p.z / ray.z, homogeneous in ray.z.
  const row = (i: 0 | 1 | 2): Vec3 => [right[i], down[i], ahead[i] * f - right[i] * cxPx - down[i] * cyPx];
  const [rx, ry, rz] = [row(0), row(1), row(2)];
  const h = [0, 1, 2].map((k) => [p[0] * rz[k] - p[2] * rx[k], p[1] * rz[k] - p[2] * ry[k], rz[k]]);
  const flat = [0, 1, 2].flatMap((r) => [0, 1, 2].map((k) => h[k]?.[r] as number));
  return flat.map((v) => v / (flat[8] as number));
}

/** Gravity in camera axes, unit length. */
export function gravityInCamera(camera: Camera): Vec3 {
  return [-camera.right[2], -camera.down[2], -camera.ahead[2]];
}
