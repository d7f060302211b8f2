import type { Vector3 } from '../../core/geometry/point.ts';

/** A reading of the phone's own orientation, degrees, as the page gets it. */
export interface Orientation {
  readonly betaDeg: number;
  readonly gammaDeg: number;
  /** How far the picture on the screen is turned against the phone's upright: 0, 90, 180 or 270. */
  readonly screenAngleDeg: number;
}

/**
 * The unit vector of gravity in the axes of the back camera as its picture stands on the screen: x right, y down, z
 * into the scene. From the rotation R = Rz(alpha) Rx(beta) Ry(gamma) of the phone (W3C Device Orientation and Motion,
 * section 4.1): gravity in the phone's axes is minus the third row of R; the back camera looks along minus z.
 */
export function gravityInCamera({ betaDeg, gammaDeg, screenAngleDeg }: Orientation): Vector3 {
  const rad = Math.PI / 180;
  const [b, g, s] = [betaDeg * rad, gammaDeg * rad, screenAngleDeg * rad];
  const x = Math.cos(b) * Math.sin(g);
  const y = -Math.sin(b);
  const z = -Math.cos(b) * Math.cos(g);
  const right = Math.cos(s) * x - Math.sin(s) * y;
  const up = Math.sin(s) * x + Math.cos(s) * y;
  return [right, -up, -z];
}
