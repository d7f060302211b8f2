import { pixelWords } from './pixelWords.ts';
import type { Field, Raster } from './raster.ts';

/** Below this sum of the three channels a pixel's chromaticity is mostly sensor and JPEG noise. */
const DARK_SUM = 150;

/**
 * How green each pixel is, free of brightness: excess green minus excess red on chromatic coordinates,
 * 3g - 2.4r - b with r + g + b = 1 (Meyer & Neto 2008, Comput. Electron. Agric. 63:282-293; excess green 2g - r - b is
 * Woebbecke et al. 1995, Trans. ASAE 38:259-269, excess red 1.4r - g Meyer et al. 1998). Neutral grey gives -0.13,
 * brown soil and straw -0.3 to -0.1, leaves 0 to 0.9. Where there is no content the index is -3, below any colour.
 *
 * What we changed: dark pixels take the index of their 3 x 3 neighbourhood (sums before the division, so bright pixels
 * weigh more), because in shadow one digital number of noise moves the index by 0.05; and pixels whose blue reaches
 * green (sky light on plastic, cloth, water) are held below any leaf.
 */
export function vegetationIndex(raster: Raster): Field<Float32Array> {
  const { widthPx, heightPx } = raster;
  const words = pixelWords(raster);
  const out = new Float32Array(widthPx * heightPx);
  for (let i = 0; i < out.length; i++) {
    const word = words[i]!;
    if (word >>> 24 === 0) {
      out[i] = -3;
      continue;
    }
    const r = word & 255;
    const g = (word >>> 8) & 255;
    const b = (word >>> 16) & 255;
    const sum = r + g + b;
    out[i] = sum < DARK_SUM ? shadedIndex(raster, i) : indexOf(r, g, b, sum);
  }
  return { widthPx, heightPx, data: out };
}

function indexOf(r: number, g: number, b: number, sum: number): number {
  if (g <= b) return Math.min(-0.14, (3 * g - 2.4 * r - b) / (sum + 1));
  return (3 * g - 2.4 * r - b) / (sum + 1);
}

function shadedIndex({ widthPx, heightPx, data }: Raster, i: number): number {
  const x = i % widthPx;
  const y = (i - x) / widthPx;
  let r = 0;
  let g = 0;
  let b = 0;
  let n = 0;
  for (let v = Math.max(0, y - 1); v <= Math.min(heightPx - 1, y + 1); v++) {
    for (let u = Math.max(0, x - 1); u <= Math.min(widthPx - 1, x + 1); u++) {
      const j = 4 * (v * widthPx + u);
      // a sunlit neighbour says nothing about the colour of the shade
      if (data[j + 3] === 0 || data[j]! + data[j + 1]! + data[j + 2]! > 1.5 * DARK_SUM) continue;
      r += data[j]!;
      g += data[j + 1]!;
      b += data[j + 2]!;
      n++;
    }
  }
  // two digital numbers of green are within the noise of a black pixel: they are taken off
  return indexOf(r, Math.max(0, g - 1.5 * n), b, r + g + b);
}
