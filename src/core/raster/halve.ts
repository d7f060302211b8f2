import { pixelWords } from './pixelWords.ts';
import { makeRaster, type Raster } from './raster.ts';

/** Halves already made: the searches for cards and ribbons and the straightening ask for the same one. */
const made = new WeakMap<Raster, Raster>();

/**
 * The picture at half size (2 x 2 averages; a last odd column or row is dropped). Pixel centre (x, y) of the result
 * shows (2x + 0.5, 2y + 0.5) of the input. The same picture gives the same half, kept as long as the picture lives, so
 * neither may be painted on. Throws RangeError when a side would vanish.
 */
export function halve(picture: Raster): Raster {
  const known = made.get(picture);
  if (known !== undefined) return known;
  const half = halved(picture);
  made.set(picture, half);
  return half;
}

function halved(picture: Raster): Raster {
  const result = makeRaster(picture.widthPx >> 1, picture.heightPx >> 1);
  const { widthPx, heightPx } = result;
  const row = picture.widthPx;
  const from = pixelWords(picture);
  const out = pixelWords(result);
  for (let y = 0, at = 0; y < heightPx; y++) {
    for (let x = 0, i = 2 * y * row; x < widthPx; x++, i += 2, at++) {
      const a = from[i]!;
      const b = from[i + 1]!;
      const c = from[i + row]!;
      const d = from[i + row + 1]!;
      // two channels at a time, each with 16 bits of room
      const redBlue = (a & 0xff00ff) + (b & 0xff00ff) + (c & 0xff00ff) + (d & 0xff00ff) + 0x20002;
      let greenAlpha =
        ((a >>> 8) & 0xff00ff) + ((b >>> 8) & 0xff00ff) + ((c >>> 8) & 0xff00ff) + ((d >>> 8) & 0xff00ff) + 0x20002;
      // content only where all four have it
      if ((a & b & c & d) >>> 24 !== 255) {
        const least = Math.min(a >>> 24, b >>> 24, c >>> 24, d >>> 24);
        greenAlpha = (greenAlpha & 0xffff) | (least << 18);
      }
      out[at] = ((redBlue >>> 2) & 0xff00ff) | (((greenAlpha >>> 2) & 0xff00ff) << 8);
    }
  }
  return result;
}
