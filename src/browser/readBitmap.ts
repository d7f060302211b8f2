import type { Raster } from '../core/raster/raster.ts';

/** Rows read at a time: beside the decoder's picture and the raster there is never a third one of full size. */
const BAND_PX = 128;
/** Bytes copied at a time: a browser keeps memory of the size of the largest copy for the next one, beyond its thread. */
const COPY_BYTES = 8 * 1024 * 1024;
/** Rows compared, as shares of the height, before one way of reading is trusted to give what the other gives. */
const PROBES = [0, 0.25, 0.5, 0.75, 1];

/**
 * The pixels of a decoded picture, upright, sRGB, on white where it is see-through. Copied straight out of the
 * decoder's memory where that gives the same as drawing does; else drawn in bands. The copy takes half the time, but
 * leaves out how the camera was turned and what is see-through, and not every browser has it.
 */
export async function readBitmap(bitmap: ImageBitmap): Promise<Raster> {
  const { width: widthPx, height: heightPx } = bitmap;
  const canvas = new OffscreenCanvas(widthPx, Math.min(BAND_PX, heightPx));
  try {
    const context = canvas.getContext('2d', { willReadFrequently: true, colorSpace: 'srgb' });
    if (context === null) throw new Error('this browser gives no drawing surface');
    context.fillStyle = '#ffffff';
    const drawn = (y: number, rows: number) => {
      context.fillRect(0, 0, widthPx, rows);
      context.drawImage(bitmap, 0, -y);
      return context.getImageData(0, 0, widthPx, rows).data;
    };
    const copied = await copiedOut(bitmap, (y) => drawn(y, 1));
    if (copied !== null) return { widthPx, heightPx, data: copied };
    const data = new Uint8ClampedArray(4 * widthPx * heightPx);
    for (let y = 0; y < heightPx; y += BAND_PX) data.set(drawn(y, Math.min(BAND_PX, heightPx - y)), 4 * widthPx * y);
    return { widthPx, heightPx, data };
  } finally {
    // Surfaces hold their memory until somebody collects them: let go at once.
    canvas.width = 0;
    canvas.height = 0;
  }
}

/** All pixels in a few copies; null where a row of it is not what drawing gives, or where the browser cannot. */
async function copiedOut(
  bitmap: ImageBitmap,
  drawnRow: (y: number) => Uint8ClampedArray,
): Promise<Uint8ClampedArray | null> {
  if (!('VideoFrame' in globalThis)) return null;
  const { width, height } = bitmap;
  let frame: VideoFrame | null = null;
  try {
    frame = new VideoFrame(bitmap, { timestamp: 0 });
    const as = { format: 'RGBA', colorSpace: 'srgb' } as const;
    for (const share of PROBES) {
      const y = Math.round(share * (height - 1));
      const row = new Uint8ClampedArray(4 * width);
      await frame.copyTo(row, { ...as, rect: { x: 0, y, width, height: 1 } });
      const wanted = drawnRow(y);
      if (row.some((value, i) => value !== wanted[i])) return null;
    }
    const data = new Uint8ClampedArray(4 * width * height);
    const rows = Math.max(1, Math.floor(COPY_BYTES / (4 * width)));
    for (let y = 0; y < height; y += rows) {
      const rect = { x: 0, y, width, height: Math.min(rows, height - y) };
      await frame.copyTo(data.subarray(4 * width * y, 4 * width * (y + rect.height)), { ...as, rect });
    }
    return data;
  } catch {
    return null;
  } finally {
    frame?.close();
  }
}
