import type { Homography } from '../geometry/homography.ts';
import { makeRaster, type Raster } from './raster.ts';
import { sampleBilinear } from './sampleBilinear.ts';

/**
 * Resamples a picture through a projective map.
 *
 * @param outToIn maps an output pixel to the place in `picture` it shows.
 * @param samplesAcross supersampling: each output pixel averages this many squared samples spread over its area, so
 *   that a shrinking map does not alias. 1 is plain bilinear.
 */
export function warp(
  picture: Raster,
  outToIn: Homography,
  widthPx: number,
  heightPx: number,
  samplesAcross: number,
): Raster {
  const result = makeRaster(widthPx, heightPx);
  const out = result.data as Uint8Array;
  const [h0, h1, h2, h3, h4, h5, h6, h7, h8] = outToIn;
  const n = Math.max(1, Math.round(samplesAcross));
  const sample = new Uint8Array(4);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const at = (y * widthPx + x) * 4;
      if (n === 1) {
        const w = h6 * x + h7 * y + h8;
        sampleBilinear(picture, (h0 * x + h1 * y + h2) / w, (h3 * x + h4 * y + h5) / w, out, at);
        continue;
      }
      let r = 0;
      let g = 0;
      let b = 0;
      let seen = 0;
      for (let j = 0; j < n; j++) {
        const sy = y + (j + 0.5) / n - 0.5;
        for (let i = 0; i < n; i++) {
          const sx = x + (i + 0.5) / n - 0.5;
          const w = h6 * sx + h7 * sy + h8;
          sampleBilinear(picture, (h0 * sx + h1 * sy + h2) / w, (h3 * sx + h4 * sy + h5) / w, sample, 0);
          if (sample[3] === 0) continue;
          r += sample[0]!;
          g += sample[1]!;
          b += sample[2]!;
          seen++;
        }
      }
      if (seen * 2 < n * n) continue;
      out[at] = r / seen + 0.5;
      out[at + 1] = g / seen + 0.5;
      out[at + 2] = b / seen + 0.5;
      out[at + 3] = 255;
    }
  }
  return result;
}
