import type { Raster } from './raster.ts';

/**
 * A picture's pixels as one 32-bit word each, red in the lowest byte (all engines run little-endian): loops that move or
 * mix whole pixels read one number instead of four. The picture's own memory, or a copy where that is not aligned.
 */
export function pixelWords({ data }: Raster): Int32Array {
  if (data.byteOffset % 4 === 0) return new Int32Array(data.buffer, data.byteOffset, data.length >> 2);
  return new Int32Array(data.slice().buffer);
}
