import type { Point, Vector3 } from '../../geometry/point.ts';

/** Up in camera axes for a camera tilted away from straight down; `towards` is where up points in the picture. */
export function upFor(tiltDeg: number, towards: Point): Vector3 {
  const tilt = (tiltDeg * Math.PI) / 180;
  return [Math.sin(tilt) * towards[0], Math.sin(tilt) * towards[1], -Math.cos(tilt)];
}
