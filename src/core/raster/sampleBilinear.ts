import type { Raster } from './raster.ts';

/**
 * Reads a picture between pixel centres into `out[at..at+3]` (RGBA). Outside the picture the alpha written is 0.
 * Hot path of warping, so it writes instead of returning.
 */
export function sampleBilinear(picture: Raster, x: number, y: number, out: Uint8Array, at: number): void {
  const { widthPx, heightPx, data } = picture;
  if (!(x >= -0.5 && y >= -0.5 && x <= widthPx - 0.5 && y <= heightPx - 0.5)) {
    out[at + 3] = 0;
    return;
  }
  const cx = Math.min(Math.max(x, 0), widthPx - 1);
  const cy = Math.min(Math.max(y, 0), heightPx - 1);
  const x0 = cx | 0;
  const y0 = cy | 0;
  const fx = cx - x0;
  const fy = cy - y0;
  const i = (y0 * widthPx + x0) * 4;
  const j = x0 + 1 < widthPx ? i + 4 : i;
  const down = y0 + 1 < heightPx ? widthPx * 4 : 0;
  const a = (1 - fx) * (1 - fy);
  const b = fx * (1 - fy);
  const c = (1 - fx) * fy;
  const d = fx * fy;
  out[at] = data[i]! * a + data[j]! * b + data[i + down]! * c + data[j + down]! * d + 0.5;
  out[at + 1] = data[i + 1]! * a + data[j + 1]! * b + data[i + down + 1]! * c + data[j + down + 1]! * d + 0.5;
  out[at + 2] = data[i + 2]! * a + data[j + 2]! * b + data[i + down + 2]! * c + data[j + down + 2]! * d + 0.5;
  out[at + 3] = 255;
}
