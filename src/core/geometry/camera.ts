import { type Homography, invertHomography } from './homography.ts';
import type { Point, Vector3 } from './point.ts';
import { cross, dot, times, turned, unit } from './vector.ts';

/**
 * A pinhole camera with square pixels and the principal point in the middle of the picture; lens distortion is taken
 * as removed by the phone (what is left bends lines by a few pixels near the corners and is not modelled).
 * Ground axes: along the reference, across to its left, up; metres. Camera axes: x right, y down, z into the scene.
 */
export interface Camera {
  readonly focalPx: number;
  readonly middlePx: Point;
  readonly position: Vector3;
  /** The camera's x, y and z axes in ground axes. */
  readonly axes: readonly [Vector3, Vector3, Vector3];
}

/** The middle of a picture with pixel centres at integers. */
export function middleOf(widthPx: number, heightPx: number): Point {
  return [(widthPx - 1) / 2, (heightPx - 1) / 2];
}

/** Photo pixel of a ground point; not a number when the point is behind the camera. */
export function projectPoint({ position, axes, focalPx, middlePx }: Camera, ground: Vector3): Point {
  // written out, not by vectors: fits call this many thousand times
  const x = ground[0] - position[0];
  const y = ground[1] - position[1];
  const z = ground[2] - position[2];
  const [right, down, into] = axes;
  const depth = x * into[0] + y * into[1] + z * into[2];
  if (!(depth > 1e-6)) return [Number.NaN, Number.NaN];
  const f = focalPx / depth;
  return [
    middlePx[0] + f * (x * right[0] + y * right[1] + z * right[2]),
    middlePx[1] + f * (x * down[0] + y * down[1] + z * down[2]),
  ];
}

/** Soil plane (along, across) to photo pixels. */
export function groundToPhoto(camera: Camera): Homography {
  const { focalPx: f, middlePx, axes, position } = camera;
  const column = (v: Vector3): Vector3 => {
    const z = dot(v, axes[2]);
    return [f * dot(v, axes[0]) + middlePx[0] * z, f * dot(v, axes[1]) + middlePx[1] * z, z];
  };
  const [a, b, c] = [column([1, 0, 0]), column([0, 1, 0]), column(times(position, -1))];
  return [a[0], b[0], c[0], a[1], b[1], c[1], a[2], b[2], c[2]].map((v) => v / c[2]) as unknown as Homography;
}

/** Photo pixels to soil plane (along, across). */
export function photoToGround(camera: Camera): Homography {
  return invertHomography(groundToPhoto(camera));
}

/** Which way is up, in camera axes. */
export function upInCamera({ axes }: Camera): Vector3 {
  return [axes[0][2], axes[1][2], axes[2][2]];
}

/** Direction in which a pixel looks, in camera axes, depth 1. */
export function rayOf(pixel: Point, focalPx: number, middlePx: Point): Vector3 {
  return [(pixel[0] - middlePx[0]) / focalPx, (pixel[1] - middlePx[1]) / focalPx, 1];
}

/** The camera turned by a small rotation vector given in ground axes. */
export function turnCamera(camera: Camera, turn: Vector3): Camera['axes'] {
  const [x, y] = [unit(turned(camera.axes[0], turn)), unit(turned(camera.axes[1], turn))];
  return [x, y, cross(x, y)];
}
