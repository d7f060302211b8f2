import type { Raster } from '../../raster/raster.ts';

/** Places in a photo that look like leaves, thinned out: photo pixels. */
export interface GreenPoints {
  readonly x: Float32Array;
  readonly y: Float32Array;
}

/** A sample every so many pixels of the longer side is enough to see rows of plants. */
const SAMPLES_ALONG = 800;
const MOST = 2500;
/** Leaves lie above this index on any soil seen; and above this share of the photo's greenest half percent. */
const LEAST_INDEX = 0.06;
const OF_GREENEST = 0.4;
const DARKEST_SUM = 60;

/**
 * A thin sample of the photo's leaf-coloured pixels (index 3g - 2.4r - b on chromatic coordinates, Meyer & Neto 2008),
 * enough to see in which lines plants stand, of no use for single plants. In the order of the rows from the top.
 */
export function greenPoints({ widthPx, heightPx, data }: Raster): GreenPoints {
  const step = Math.max(1, Math.round(Math.max(widthPx, heightPx) / SAMPLES_ALONG));
  const across = Math.ceil(widthPx / step);
  const down = Math.ceil(heightPx / step);
  const index = new Float32Array(across * down);
  const histogram = new Uint32Array(256);
  for (let v = 0, i = 0; v < down; v++) {
    for (let u = 0; u < across; u++, i++) {
      const j = 4 * (v * step * widthPx + u * step);
      const r = data[j]!;
      const g = data[j + 1]!;
      const b = data[j + 2]!;
      const sum = r + g + b;
      if (sum >= DARKEST_SUM && g > b) index[i] = (3 * g - 2.4 * r - b) / sum;
      histogram[Math.max(0, Math.min(255, Math.floor(index[i]! * 256)))]!++;
    }
  }
  let above = 0;
  let top = 255;
  while (top > 0 && above + histogram[top]! < index.length / 200) above += histogram[top--]!;
  const least = Math.max(LEAST_INDEX, (OF_GREENEST * top) / 256);
  const chosen: number[] = [];
  for (let i = 0; i < index.length; i++) if (index[i]! > least) chosen.push(i);
  const every = Math.max(1, chosen.length / MOST);
  const n = Math.floor(chosen.length / every);
  const at = (k: number): number => chosen[Math.floor(k * every)]!;
  return {
    x: Float32Array.from({ length: n }, (_, k) => (at(k) % across) * step),
    y: Float32Array.from({ length: n }, (_, k) => Math.floor(at(k) / across) * step),
  };
}
