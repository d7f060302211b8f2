import { norm } from './norm.ts';
import type { Vector3 } from './point.ts';

export const dot = (a: Vector3, b: Vector3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const add = (a: Vector3, b: Vector3): Vector3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const times = (a: Vector3, by: number): Vector3 => [a[0] * by, a[1] * by, a[2] * by];
export const cross = (a: Vector3, b: Vector3): Vector3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** The vector at length 1; not finite for the zero vector. */
export const unit = (a: Vector3): Vector3 => times(a, 1 / norm(a[0], a[1], a[2]));

/** Turns `v` about the axis of `turn` by its length in radians (Rodrigues' formula). */
export function turned(v: Vector3, turn: Vector3): Vector3 {
  const angle = norm(turn[0], turn[1], turn[2]);
  if (angle < 1e-300) return v;
  const axis = times(turn, 1 / angle);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return add(add(times(v, c), times(cross(axis, v), s)), times(axis, dot(axis, v) * (1 - c)));
}
