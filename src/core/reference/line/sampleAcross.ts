import { pixelWords } from '../../raster/pixelWords.ts';
import type { Raster } from '../../raster/raster.ts';
import { type Ribbon, ribbonOffset } from './ribbon.ts';

/** Logarithm of (value + 6) for the 256 levels: shade becomes an offset, and the darkest noise stays tame. */
export const LOG_LEVEL: Float32Array = Float32Array.from({ length: 256 }, (_, i) => Math.log(i + 6));

/**
 * Mean log colour across a ribbon over a short stretch of it: `out` gets three planes (r, g, b) of `steps` values at
 * side offsets `fromV + i * stepV`. Nearest pixels, as the mean over the stretch smooths more than interpolation would.
 * Returns how many of the samples lay in the picture (0 to 1).
 */
export function sampleAcross(
  photo: Raster,
  ribbon: Ribbon,
  fromS: number,
  toS: number,
  columns: number,
  fromV: number,
  stepV: number,
  steps: number,
  out: Float32Array,
): number {
  const { widthPx, heightPx } = photo;
  const words = pixelWords(photo);
  out.fill(0);
  let inside = 0;
  const [dx, dy] = ribbon.dir;
  const counts = new Uint16Array(steps);
  for (let c = 0; c < columns; c++) {
    const s = fromS + ((toS - fromS) * (c + 0.5)) / columns;
    const base = ribbonOffset(ribbon, s) + fromV;
    const bx = ribbon.origin[0] + s * dx - base * dy;
    const by = ribbon.origin[1] + s * dy + base * dx;
    for (let i = 0; i < steps; i++) {
      const x = bx - i * stepV * dy + 0.5;
      const y = by + i * stepV * dx + 0.5;
      if (!(x >= 0 && y >= 0 && x < widthPx && y < heightPx)) continue;
      const word = words[(y | 0) * widthPx + (x | 0)]!;
      out[i]! += LOG_LEVEL[word & 255]!;
      out[steps + i]! += LOG_LEVEL[(word >>> 8) & 255]!;
      out[2 * steps + i]! += LOG_LEVEL[(word >>> 16) & 255]!;
      counts[i]!++;
      inside++;
    }
  }
  for (let i = 0; i < steps; i++) {
    const n = counts[i]!;
    if (n === 0) continue;
    out[i]! /= n;
    out[steps + i]! /= n;
    out[2 * steps + i]! /= n;
  }
  return inside / (columns * steps);
}
