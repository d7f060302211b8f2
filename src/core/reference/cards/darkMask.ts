import { type BitMask, makeBitMask } from '../../raster/bitMask.ts';
import { halve } from '../../raster/halve.ts';
import { pixelWords } from '../../raster/pixelWords.ts';
import type { Field, Raster } from '../../raster/raster.ts';

/** Neighbourhoods that "darker than around" is judged in, pixels of the picture at half size: small and large markers. */
const RADII_PX = [8, 28];
/** A pixel is dark when its value is below this share of its neighbourhood's mean. */
const DARK_SHARE = 0.8;

/**
 * Where a picture is much darker than its square neighbourhood of one size or the other (cut at the border). Means are
 * taken at half size: over so many pixels it makes no difference, and it is a quarter of the work.
 */
export function darkMask(picture: Raster): BitMask {
  const { widthPx: w, heightPx: h } = picture;
  const { widthPx: limitWidth, heightPx: limitHeight, data: limits } = darkBelow(halve(picture));
  const from = pixelWords(picture);
  const mask = makeBitMask(w, h);
  for (let y = 0; y < h; y++) {
    const limitRow = Math.min(y >> 1, limitHeight - 1) * limitWidth;
    for (let x = 0, i = y * w, at = y * mask.wordsPerRow; x < w; at++) {
      const end = Math.min(w, x + 32);
      let bits = 0;
      for (let bit = 0; x < end; x++, i++, bit++) {
        const word = from[i]!;
        const over = greyOf(word) - limits[limitRow + (x >> 1)]!;
        // few are dark; of those the top bit says whether they are not green
        if (over < 0) bits |= (~greenOf(word) >>> 31) << bit;
      }
      mask.words[at] = bits;
    }
  }
  return mask;
}

const greyOf = (word: number): number => ((word & 255) + ((word >>> 7) & 510) + ((word >>> 16) & 255)) >> 2;

/** Noise of a picture's colours in black ink, grey levels. */
const LEAST_GREEN = 6;

/** Negative where green leads red and blue by an eighth, as in leaves and never in print: they would join a square to themselves. */
const greenOf = (word: number): number => {
  const green = (word >>> 8) & 255;
  const limit = green - (green >>> 3) - LEAST_GREEN;
  return ((word & 255) - limit) & (((word >>> 16) & 255) - limit);
};

/** The grey level below which a place is dark, whichever neighbourhood says so. */
function darkBelow(picture: Raster): Field<Uint8Array> {
  const { widthPx: w, heightPx: h } = picture;
  const from = pixelWords(picture);
  const grey = new Uint8Array(w * h);
  for (let i = 0; i < grey.length; i++) grey[i] = greyOf(from[i]!);
  // one more, for the last odd column of the last row
  const data = new Uint8Array(w * h + 1);
  for (const radius of RADII_PX) raiseLimits(grey, data, w, h, radius);
  return { widthPx: w, heightPx: h, data };
}

/** Raises each limit to the dark share of the mean over `radius` pixels to each side; sums run along columns and rows. */
function raiseLimits(grey: Uint8Array, limits: Uint8Array, w: number, h: number, radius: number): void {
  // empty columns to both sides stand for what the border cuts off
  const padded = new Int32Array(w + 2 * radius + 1);
  const columns = padded.subarray(radius + 1, radius + 1 + w);
  const shares = new Float64Array(w);
  for (let y = 0; y < Math.min(radius, h); y++) {
    for (let x = 0, i = y * w; x < w; x++, i++) columns[x]! += grey[i]!;
  }
  for (let y = 0; y < h; y++) {
    if (y + radius < h) {
      for (let x = 0, i = (y + radius) * w; x < w; x++, i++) columns[x]! += grey[i]!;
    }
    if (y > radius) {
      for (let x = 0, i = (y - radius - 1) * w; x < w; x++, i++) columns[x]! -= grey[i]!;
    }
    if (y <= radius || y + radius >= h) {
      const rows = Math.min(h - 1, y + radius) - Math.max(0, y - radius) + 1;
      for (let x = 0; x < w; x++) {
        shares[x] = DARK_SHARE / (rows * (Math.min(w - 1, x + radius) - Math.max(0, x - radius) + 1));
      }
    }
    let sum = 0;
    for (let x = 0; x < 2 * radius + 1; x++) sum += padded[x]!;
    for (let x = 0, i = y * w; x < w; x++, i++) {
      sum = (sum + padded[x + 2 * radius + 1]! - padded[x]!) | 0;
      // rounded up: a whole grey level is below one exactly when it is below the other
      const limit = (sum * shares[x]! + 0.999999) | 0;
      if (limit > limits[i]!) limits[i] = limit;
    }
  }
}
