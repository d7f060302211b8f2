import { type Ribbon, ribbonOffset, ribbonPoint, ribbonWidth } from './ribbon.ts';

/** Whether two strips of one direction lie within a width or two of each other all along: a rod and its shadow. */
export function alongside(a: Ribbon, b: Ribbon): boolean {
  const [long, short] = a.toS - a.fromS >= b.toS - b.fromS ? [a, b] : [b, a];
  if (Math.abs(long.dir[0] * short.dir[1] - long.dir[1] * short.dir[0]) > 0.035) return false;
  return [0.1, 0.3, 0.5, 0.7, 0.9].every((t) => {
    const [x, y] = ribbonPoint(short, short.fromS + t * (short.toS - short.fromS), 0);
    const [px, py] = [x - long.origin[0], y - long.origin[1]];
    const s = px * long.dir[0] + py * long.dir[1];
    const off = Math.abs(px * -long.dir[1] + py * long.dir[0] - ribbonOffset(long, s));
    const half = (Math.abs(ribbonWidth(long, s)) + Math.abs(ribbonWidth(short, short.fromS))) / 2;
    return off < 2 * half + 4;
  });
}
