import type { Field, Raster } from '../../raster/raster.ts';

/** The channels a man-made ribbon is told from soil, straw and leaves by; each is a difference that shade changes little in sign. */
export type ContrastChannel = 'light' | 'yellow' | 'red';

/**
 * Whole-number contrast channels of a picture: `light` = r + g + b, `yellow` = r + g - 2b, `red` = 2r - g - b.
 * Plain opponent colours, so that a yellow tape on pale straw of the same lightness still has edges.
 */
export function contrastChannels(picture: Raster, channels: readonly ContrastChannel[]): Field<Int32Array>[] {
  const { widthPx, heightPx, data } = picture;
  return channels.map((channel) => {
    const [r, g, b] = channel === 'light' ? [1, 1, 1] : channel === 'yellow' ? [1, 1, -2] : [2, -1, -1];
    const out = new Int32Array(widthPx * heightPx);
    for (let i = 0, at = 0; i < out.length; i++, at += 4) {
      out[i] = r! * data[at]! + g! * data[at + 1]! + b! * data[at + 2]!;
    }
    return { widthPx, heightPx, data: out };
  });
}
