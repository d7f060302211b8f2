import type { Raster } from './raster.ts';

/** Light, 0 to 1, for each 8-bit value of an sRGB picture (IEC 61966-2-1). */
const LIGHT = Float32Array.from({ length: 256 }, (_, v) => {
  const c = v / 255;
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
});

/**
 * Light (mean of the three channels, linear, 0 to 1) between pixel centres. Blur mixes light, not sRGB values: an edge
 * between black and white lies where the light is half way, not where the values are. Not a number outside the picture.
 */
export function linearLight(picture: Raster, x: number, y: number): number {
  const { widthPx, heightPx, data } = picture;
  if (!(x >= 0 && y >= 0 && x <= widthPx - 1 && y <= heightPx - 1)) return Number.NaN;
  const x0 = Math.min(widthPx - 2, Math.floor(x));
  const y0 = Math.min(heightPx - 2, Math.floor(y));
  const i = (y0 * widthPx + x0) * 4;
  const j = i + widthPx * 4;
  const fx = x - x0;
  const fy = y - y0;
  const top = lightAt(data, i) * (1 - fx) + lightAt(data, i + 4) * fx;
  const bottom = lightAt(data, j) * (1 - fx) + lightAt(data, j + 4) * fx;
  return (top * (1 - fy) + bottom * fy) / 3;
}

function lightAt(data: Raster['data'], i: number): number {
  return LIGHT[data[i]!]! + LIGHT[data[i + 1]!]! + LIGHT[data[i + 2]!]!;
}
