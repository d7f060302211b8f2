import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import { type Ribbon, ribbonPoint, ribbonWidth } from '../line/ribbon.ts';
import type { FoundLine } from '../reference.ts';

/** A mark this many times its doubt beside a ribbon is still meant for it. */
const WITHIN_SD = 3;

/** A hook, a leaf or soil may hide so much of a ribbon's length at an end that a person marked. */
const HIDDEN_SHARE = 0.1;

/** Whether every mark lies on a ribbon or at its edge, and not far beyond its ends. */
export function liesOn({ readings }: Pick<FoundLine, 'readings'>, ribbon: Ribbon): boolean {
  return readings.every(({ xPx, yPx, sdPx }) => {
    const s = placeAlong(ribbon, [xPx, yPx]);
    const width = ribbonWidth(ribbon, s);
    const [cx, cy] = ribbonPoint(ribbon, s, 0);
    const beyond = Math.max(0, ribbon.fromS - s, s - ribbon.toS);
    const hidden = Math.max(2 * width, HIDDEN_SHARE * (ribbon.toS - ribbon.fromS)) + WITHIN_SD * sdPx;
    return norm(xPx - cx, yPx - cy) < width / 2 + WITHIN_SD * sdPx && beyond < hidden;
  });
}

/** Pixels along the ribbon's axis at which a photo point lies. */
export function placeAlong({ origin, dir }: Ribbon, [x, y]: Point): number {
  return (x - origin[0]) * dir[0] + (y - origin[1]) * dir[1];
}
