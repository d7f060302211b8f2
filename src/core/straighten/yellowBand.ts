import type { Point } from '../geometry/point.ts';
import type { Strip } from './strip.ts';
import { groundToStrip } from './stripGround.ts';

const WINDOW_M = 0.2;
const NEAR_LINE_M = 0.06;
/** Share of a window's length that must be yellow in one line of pixels; seedlings leave most of it bare. */
const FILLED = 0.4;
const EDGE_MM = 4;

/**
 * Where a yellow ribbon runs along the reference line of a strip: outlines in strip pixels, one a window of row. Used
 * when a person marked readings by hand, so that nobody looked for the tape itself and its yellow could pass for leaves.
 * Other tapes are no danger: white and wood are not taken for leaves. Our own rule, because hand marks say nothing of
 * what they lie on.
 */
export function yellowBand(strip: Strip): Point[][] {
  const { widthPx, heightPx } = strip.raster;
  const window = Math.max(8, Math.round((WINDOW_M * 1000) / strip.mmPerPx));
  const [, middle] = groundToStrip(strip, [strip.alongAtLeftM, 0]);
  const reach = Math.round((NEAR_LINE_M * 1000) / strip.mmPerPx);
  const edge = EDGE_MM / strip.mmPerPx;
  const from = Math.max(0, Math.round(middle) - reach);
  const to = Math.min(heightPx - 1, Math.round(middle) + reach);
  const outlines: Point[][] = [];
  for (let left = 0; left < widthPx; left += window) {
    const right = Math.min(widthPx, left + window);
    const filled: number[] = [];
    for (let y = from; y <= to; y++) if (yellowShare(strip, y, left, right) >= FILLED) filled.push(y);
    if (filled.length === 0) continue;
    const [top, bottom] = [filled[0]! - edge, filled.at(-1)! + edge];
    outlines.push([
      [left, top],
      [right, top],
      [right, bottom],
      [left, bottom],
    ]);
  }
  return outlines;
}

function yellowShare({ raster: { data, widthPx } }: Strip, y: number, left: number, right: number): number {
  let yellow = 0;
  for (let x = left; x < right; x++) {
    const i = 4 * (y * widthPx + x);
    const [r, g, b] = [data[i]!, data[i + 1]!, data[i + 2]!];
    // Red and green alike and blue far below: yellow at any brightness. Leaves have clearly more green than red.
    if (data[i + 3] !== 0 && r > 60 && g > 0.72 * r && g < 1.06 * r && b < 0.55 * r) yellow++;
  }
  return yellow / (right - left);
}
