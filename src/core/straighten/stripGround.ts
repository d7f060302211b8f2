import type { Point } from '../geometry/point.ts';
import type { Strip } from './strip.ts';

/** Where a strip pixel lies on the ground: metres (along, across). */
export function stripToGround(strip: Strip, [x, y]: Point): Point {
  const step = strip.mmPerPx / 1000;
  return [strip.alongAtLeftM + x * step, strip.acrossAtTopM - y * step];
}

/** Where a ground point (along, across in metres) lies in the strip, in strip pixels. */
export function groundToStrip(strip: Strip, [alongM, acrossM]: Point): Point {
  const step = strip.mmPerPx / 1000;
  return [(alongM - strip.alongAtLeftM) / step, (strip.acrossAtTopM - acrossM) / step];
}
