import sharp from 'sharp';
import type { CountPicture } from '../core/picture/countPicture.ts';
import type { Raster } from '../core/raster/raster.ts';

/**
 * Paints a picture's layers and drawing into a PNG. `photo` may be a shrunk copy; `photoPxPerRasterPx` says by how much.
 */
export async function paintPicture(
  picture: CountPicture,
  photo: Raster,
  photoPxPerRasterPx: number,
  strip: Raster | null,
): Promise<Buffer> {
  const pieces = await Promise.all(
    picture.layers.map(async ({ source, cut, put }) => {
      const raster = source === 'photo' ? photo : strip;
      if (raster === null) throw new Error('a strip layer without a strip');
      const by = source === 'photo' ? 1 / photoPxPerRasterPx : 1;
      const left = Math.floor(cut.x * by);
      const top = Math.floor(cut.y * by);
      const input = await sharp(raster.data, {
        raw: { width: raster.widthPx, height: raster.heightPx, channels: 4 },
        limitInputPixels: false,
      })
        .extract({
          left,
          top,
          width: Math.min(raster.widthPx - left, Math.max(1, Math.floor(cut.widthPx * by))),
          height: Math.min(raster.heightPx - top, Math.max(1, Math.floor(cut.heightPx * by))),
        })
        .resize(put.widthPx, put.heightPx, { fit: 'fill' })
        .png({ compressionLevel: 1 })
        .toBuffer();
      return { input, left: put.x, top: put.y };
    }),
  );
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${picture.widthPx}" height="${picture.heightPx}">${picture.svg}</svg>`;
  return sharp({
    create: { width: picture.widthPx, height: picture.heightPx, channels: 3, background: '#f4f2ec' },
    limitInputPixels: false,
  })
    .composite([...pieces, { input: Buffer.from(svg), left: 0, top: 0 }])
    .png({ compressionLevel: 6, palette: false })
    .toBuffer();
}
