import type { Homography } from '../geometry/homography.ts';
import { pixelWords } from './pixelWords.ts';
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
  const n = Math.max(1, Math.round(samplesAcross));
  const result = makeRaster(widthPx, heightPx);
  const words = pixelWords(picture);
  if (n === 1) {
    const row = pixelWords(result);
    for (let y = 0; y < heightPx; y++) {
      sampleRow(picture, words, outToIn, 0, y, row.subarray(y * widthPx, (y + 1) * widthPx));
    }
    return result;
  }
  const out = pixelWords(result);
  const samples = Array.from({ length: n * n }, () => new Int32Array(widthPx));
  for (let y = 0; y < heightPx; y++) {
    for (const [k, row] of samples.entries()) {
      sampleRow(picture, words, outToIn, ((k % n) + 0.5) / n - 0.5, y + (Math.floor(k / n) + 0.5) / n - 0.5, row);
    }
    meanOfRows(samples, out, y * widthPx, widthPx);
  }
  return result;
}

/** One row of output from `fromX` on at height `y`, a word a pixel; 0 outside the picture. */
function sampleRow(
  picture: Raster,
  words: Int32Array,
  map: Homography,
  fromX: number,
  y: number,
  row: Int32Array,
): void {
  const { widthPx, heightPx } = picture;
  const [h0, , , h3, , , h6] = map;
  const cx = map[1] * y + map[2];
  const cy = map[4] * y + map[5];
  const cw = map[7] * y + map[8];
  for (let k = 0; k < row.length; k++) {
    const u = fromX + k;
    const inverse = 1 / (h6 * u + cw);
    const px = (h0 * u + cx) * inverse;
    const py = (h3 * u + cy) * inverse;
    if (!(px >= 0 && py >= 0 && px < widthPx - 1 && py < heightPx - 1)) {
      row[k] = atBorder(picture, px, py);
      continue;
    }
    const x0 = px | 0;
    const y0 = py | 0;
    const fx = px - x0;
    const fy = py - y0;
    const i = y0 * widthPx + x0;
    const p = words[i]!;
    const q = words[i + 1]!;
    const r = words[i + widthPx]!;
    const s = words[i + widthPx + 1]!;
    const pr = p & 255;
    const pg = (p >>> 8) & 255;
    const pb = (p >>> 16) & 255;
    const rr = r & 255;
    const rg = (r >>> 8) & 255;
    const rb = (r >>> 16) & 255;
    const red = pr + ((q & 255) - pr) * fx;
    const green = pg + (((q >>> 8) & 255) - pg) * fx;
    const blue = pb + (((q >>> 16) & 255) - pb) * fx;
    const redBelow = rr + ((s & 255) - rr) * fx;
    const greenBelow = rg + (((s >>> 8) & 255) - rg) * fx;
    const blueBelow = rb + (((s >>> 16) & 255) - rb) * fx;
    row[k] =
      (red + (redBelow - red) * fy + 0.5) |
      0 |
      (((green + (greenBelow - green) * fy + 0.5) | 0) << 8) |
      (((blue + (blueBelow - blue) * fy + 0.5) | 0) << 16) |
      0xff000000;
  }
}

const ONE = new Uint8Array(4);
const WORD = new Int32Array(ONE.buffer);

/** Places within half a pixel of the border show the border; beyond there is nothing. */
function atBorder(picture: Raster, x: number, y: number): number {
  WORD[0] = 0;
  sampleBilinear(picture, x, y, ONE, 0);
  return WORD[0]!;
}

/** Mean of the samples of each pixel that lie in the picture; left empty where fewer than half do. */
function meanOfRows(samples: readonly Int32Array[], out: Int32Array, at: number, widthPx: number): void {
  const all = samples.length;
  for (let x = 0; x < widthPx; x++) {
    let redBlue = 0;
    let green = 0;
    let seen = 0;
    for (let k = 0; k < all; k++) {
      const word = samples[k]![x]!;
      if (word === 0) continue;
      redBlue += word & 0xff00ff;
      green += (word >>> 8) & 255;
      seen++;
    }
    if (seen * 2 < all) continue;
    const half = seen >> 1;
    const red = (((redBlue & 0xffff) + half) / seen) | 0;
    const blue = (((redBlue >>> 16) + half) / seen) | 0;
    out[at + x] = red | ((((green + half) / seen) | 0) << 8) | (blue << 16) | 0xff000000;
  }
}
