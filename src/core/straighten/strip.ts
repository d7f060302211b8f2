import type { CameraStand } from '../geometry/cameraStand.ts';
import type { Homography } from '../geometry/homography.ts';
import type { Raster } from '../raster/raster.ts';

/**
 * The row, straightened: the soil plane resampled at a fixed scale. Pixel (0, 0) has its centre at
 * (`alongAtLeftM`, `acrossAtTopM`); x runs along the reference, y runs to its right (so across falls as y grows).
 * Alpha is 0 where the photo does not reach.
 */
export interface Strip {
  readonly raster: Raster;
  readonly mmPerPx: number;
  readonly alongAtLeftM: number;
  readonly acrossAtTopM: number;
  readonly photoToStrip: Homography;
  readonly stripToPhoto: Homography;
  /** Null when only a scale is known; then a camera straight above is the best guess, and heights are not corrected. */
  readonly camera: CameraStand | null;
  /** Photo pixels per strip pixel, at the worst place of the strip: above about 1 the photo resolves less than the strip shows. */
  readonly worstPhotoPxPerStripPx: number;
}
