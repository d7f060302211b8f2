import type { Field, Raster } from '../raster/raster.ts';

/** How the leaf pixels of a box look. Without enough of them the whole box is taken, with a leaf share that says so. */
export interface LeafLook {
  readonly leafShare: number;
  readonly elongation: number;
  readonly redShare: number;
  readonly greenShare: number;
  readonly index: number;
  readonly indexSd: number;
  /** Mean and standard deviation of ln(r + g + b + 1). */
  readonly logLight: number;
  readonly logLightSd: number;
  readonly roughness: number;
}

/** Fewer leaf pixels than this say nothing about a colour or a shape. */
const LEAST_PIXELS = 8;

/**
 * Colour and shape inside a box of the strip; null where the box shows no ground at all.
 *
 * @param index vegetation index of the strip.
 * @param leafFrom index above which a pixel is leaf.
 * @param boxPx left, top, right, bottom in strip pixels, both ends included.
 */
export function leafLook(
  raster: Raster,
  index: Field<Float32Array>,
  leafFrom: number,
  boxPx: readonly [number, number, number, number],
): LeafLook | null {
  const left = Math.max(0, Math.floor(boxPx[0]));
  const top = Math.max(0, Math.floor(boxPx[1]));
  const right = Math.min(raster.widthPx - 1, Math.ceil(boxPx[2]));
  const bottom = Math.min(raster.heightPx - 1, Math.ceil(boxPx[3]));
  const leaf: number[] = [];
  const shown: number[] = [];
  for (let y = top; y <= bottom; y++) {
    for (let x = left; x <= right; x++) {
      const i = y * raster.widthPx + x;
      if (raster.data[4 * i + 3]! < 128) continue;
      shown.push(i);
      if (index.data[i]! > leafFrom) leaf.push(i);
    }
  }
  if (shown.length === 0) return null;
  const pixels = leaf.length >= LEAST_PIXELS ? leaf : shown;
  const green = moments(pixels.map((i) => index.data[i]!));
  const light = moments(pixels.map((i) => logLight(raster, i)));
  const share = (channel: 0 | 1) => moments(pixels.map((i) => raster.data[4 * i + channel]! / sum(raster, i))).mean;
  return {
    leafShare: leaf.length / shown.length,
    elongation: elongation(pixels, raster.widthPx),
    redShare: share(0),
    greenShare: share(1),
    index: green.mean,
    indexSd: green.sd,
    logLight: light.mean,
    logLightSd: light.sd,
    roughness: roughness(pixels, raster) / Math.max(0.01, light.sd),
  };
}

/** Brightness of a pixel: ln of its channel sum. */
export function logLight(raster: Raster, i: number): number {
  return Math.log(sum(raster, i));
}

function sum({ data }: Raster, i: number): number {
  return data[4 * i]! + data[4 * i + 1]! + data[4 * i + 2]! + 1;
}

function moments(values: readonly number[]): { readonly mean: number; readonly sd: number } {
  const mean = values.reduce((a, v) => a + v, 0) / values.length;
  return { mean, sd: Math.sqrt(values.reduce((a, v) => a + (v - mean) ** 2, 0) / values.length) };
}

/** ln of the ratio of the two axes of the pixels' covariance; a pixel itself has variance 1/12 in both. */
function elongation(pixels: readonly number[], widthPx: number): number {
  const xs = moments(pixels.map((i) => i % widthPx));
  const ys = moments(pixels.map((i) => Math.floor(i / widthPx)));
  let xy = 0;
  for (const i of pixels) xy += ((i % widthPx) - xs.mean) * (Math.floor(i / widthPx) - ys.mean);
  xy /= pixels.length;
  const [a, b] = [xs.sd ** 2 + 1 / 12, ys.sd ** 2 + 1 / 12];
  const apart = Math.hypot(a - b, 2 * xy);
  return 0.5 * Math.log((a + b + apart) / Math.max(1e-9, a + b - apart));
}

/** Mean step of brightness to the right-hand neighbour of the same kind. */
function roughness(pixels: readonly number[], raster: Raster): number {
  let steps = 0;
  let n = 0;
  for (let k = 1; k < pixels.length; k++) {
    const i = pixels[k]!;
    if (pixels[k - 1] !== i - 1) continue;
    steps += Math.abs(logLight(raster, i) - logLight(raster, i - 1));
    n++;
  }
  return n === 0 ? 0 : steps / n;
}
