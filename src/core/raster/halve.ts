import { makeRaster, type Raster } from './raster.ts';

/**
 * The picture at half size (2 x 2 averages; a last odd column or row is dropped). Pixel centre (x, y) of the result
 * shows (2x + 0.5, 2y + 0.5) of the input. Throws RangeError when a side would vanish.
 */
export function halve(picture: Raster): Raster {
  const result = makeRaster(picture.widthPx >> 1, picture.heightPx >> 1);
  const { data, widthPx } = picture;
  const out = result.data as Uint8Array;
  const row = widthPx * 4;
  let at = 0;
  for (let y = 0; y < result.heightPx; y++) {
    let i = 2 * y * row;
    for (let x = 0; x < result.widthPx; x++, i += 8, at += 4) {
      out[at] = (data[i]! + data[i + 4]! + data[i + row]! + data[i + row + 4]! + 2) >> 2;
      out[at + 1] = (data[i + 1]! + data[i + 5]! + data[i + row + 1]! + data[i + row + 5]! + 2) >> 2;
      out[at + 2] = (data[i + 2]! + data[i + 6]! + data[i + row + 2]! + data[i + row + 6]! + 2) >> 2;
      out[at + 3] = Math.min(data[i + 3]!, data[i + 7]!, data[i + row + 3]!, data[i + row + 7]!);
    }
  }
  return result;
}
