import { composeHomographies, type Homography } from '../geometry/homography.ts';
import type { Point } from '../geometry/point.ts';

/** A raster pixel's place in the photo it was shrunk from by a whole factor (pixel centres at integers in both). */
export function rasterToPhoto([x, y]: Point, photoPxPerRasterPx: number): Point {
  const s = photoPxPerRasterPx;
  return s === 1 ? [x, y] : [(x + 0.5) * s - 0.5, (y + 0.5) * s - 0.5];
}

/** The inverse of `rasterToPhoto`. */
export function photoToRaster([x, y]: Point, photoPxPerRasterPx: number): Point {
  const s = photoPxPerRasterPx;
  return s === 1 ? [x, y] : [(x + 0.5) / s - 0.5, (y + 0.5) / s - 0.5];
}

/** A map of raster pixels turned into the same map of photo pixels. */
export function fromPhotoPixels(mapOfRaster: Homography, photoPxPerRasterPx: number): Homography {
  const s = 1 / photoPxPerRasterPx;
  return s === 1 ? mapOfRaster : composeHomographies(mapOfRaster, [s, 0, 0.5 * s - 0.5, 0, s, 0.5 * s - 0.5, 0, 0, 1]);
}
