import type { Raster } from '../raster/raster.ts';

/** What the file says about itself; every part may be missing or wrong. */
export interface PhotoFacts {
  /** As written by the camera, ISO 8601 local time, with its offset when the file holds one. */
  readonly takenAt: string | null;
  readonly position: { readonly latitudeDeg: number; readonly longitudeDeg: number } | null;
  /** 35 mm equivalent focal length, millimetres. */
  readonly focal35Mm: number | null;
}

/** A photo ready to be measured: upright as a person sees it, eight bits a channel, sRGB. */
export interface Photo {
  readonly file: string;
  readonly sha256: string;
  /** Size of the upright photo in its own pixels: all results are given in these. */
  readonly widthPx: number;
  readonly heightPx: number;
  readonly raster: Raster;
  /** Photo pixels per raster pixel: 1, or 2 and more when a very large photo was shrunk on reading. */
  readonly photoPxPerRasterPx: number;
  readonly facts: PhotoFacts;
}

/** A photo whose pixels were let go. */
export type PhotoWithoutPixels = Omit<Photo, 'raster' | 'photoPxPerRasterPx'>;
