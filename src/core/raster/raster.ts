/**
 * A colour picture: RGBA, eight bits a channel, rows from the top, pixel centres at integers.
 * Alpha is 255 where the picture has content and 0 where it has none (outside the photo in a straightened strip).
 */
export interface Raster {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly data: Uint8Array | Uint8ClampedArray;
}

/** One number a pixel, same order as `Raster`. */
export interface Field<T extends Uint8Array | Int32Array | Float32Array = Float32Array> {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly data: T;
}

/** A yes/no picture: 1 where yes, 0 where no. */
export type Mask = Field<Uint8Array>;

/** An empty (transparent black) picture. Throws RangeError when a side is not a positive whole number. */
export function makeRaster(widthPx: number, heightPx: number): Raster {
  if (!Number.isInteger(widthPx) || !Number.isInteger(heightPx) || widthPx < 1 || heightPx < 1) {
    throw new RangeError(`a picture needs whole sides of at least 1 pixel, got ${widthPx} x ${heightPx}`);
  }
  return { widthPx, heightPx, data: new Uint8Array(widthPx * heightPx * 4) };
}
