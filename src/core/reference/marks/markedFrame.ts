import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import type { Raster } from '../../raster/raster.ts';
import { frameBars } from '../frame/frameBars.ts';
import { frameQuads } from '../frame/frameQuad.ts';
import { ribbonOutline, ribbonPoint, ribbonWidth } from '../line/ribbon.ts';
import type { FoundLine } from '../reference.ts';
import { placeAlong } from './liesOn.ts';

/** A mark this many times its doubt beside a bar is still meant for it. */
const WITHIN_SD = 3;

/** The frame on one bar of which, or at whose corners, hand marks lie, if any: its bars cover what lies under them. */
export function markedFrame(photo: Raster, line: FoundLine): FoundLine | null {
  for (const { bars } of frameQuads(frameBars(photo), photo.widthPx, photo.heightPx)) {
    const bar = bars.find(({ ribbon }) =>
      line.readings.every(({ xPx, yPx, sdPx }) => {
        const p: Point = [xPx, yPx];
        const s = placeAlong(ribbon, p);
        const width = ribbonWidth(ribbon, s);
        const [cx, cy] = ribbonPoint(ribbon, s, 0);
        return norm(xPx - cx, yPx - cy) < width + WITHIN_SD * sdPx;
      }),
    );
    if (bar === undefined) continue;
    const { ribbon } = bar;
    return {
      ...line,
      on: 'frame',
      widths: line.readings.map(({ xPx, yPx, readingM }) => ({
        readingM,
        widthPx: ribbonWidth(ribbon, placeAlong(ribbon, [xPx, yPx])),
      })),
      coveredPx: bars.map((b) => ribbonOutline(b.ribbon, 2)),
    };
  }
  return null;
}
