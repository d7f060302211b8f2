import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import type { CountResult } from '../../core/count/countResult.ts';
import { fromPhotoPixels } from '../../core/count/rasterToPhoto.ts';
import { straighten } from '../../core/straighten/straighten.ts';
import { decodePhoto } from '../../node/readPhoto.ts';
import { fault } from '../faults.ts';
import type { FileSteps } from './fileSteps.ts';
import { oneAtATime } from './oneAtATime.ts';
import type { StoredPhoto } from './photoStore.ts';
import { sha256Of } from './sha256Of.ts';

export type DerivedStore = ReturnType<typeof createDerivedStore>;

/** Ground shown to either side of the row in a strip, metres. */
const STRIP_HALF_WIDTH_M = 0.42;

/**
 * Small and straightened pictures made from originals, kept under `derived/` as WebP. The folder may be deleted at any
 * time: each picture is made again when it is next asked for.
 */
export function createDerivedStore({ steps, folder }: { steps: FileSteps; folder: string }) {
  // One at a time: decoding takes memory, and a page asks for dozens at once.
  const alone = oneAtATime();

  const kept = (name: string, make: () => Promise<Buffer>): Promise<Buffer> =>
    alone('picture', async () => {
      const path = join(folder, 'derived', name.slice(0, 2), name);
      if ((await steps.size(path)) !== null) return readFile(path);
      const picture = await make();
      await steps.makeFolder(join(path, '..'));
      await writeFile(`${path}.part`, picture);
      await steps.rename(`${path}.part`, path);
      return picture;
    });

  /** The photo upright, at most `sidePx` on its longer side. */
  const thumbnail = (photo: StoredPhoto, path: string, sidePx: number): Promise<Buffer> =>
    kept(`${photo.sha256}-${sidePx}.webp`, async () => {
      const fit = { width: sidePx, height: sidePx, fit: 'inside', withoutEnlargement: true } as const;
      if (photo.type !== 'image/heic') {
        const small = sharp(path, { failOn: 'none' }).autoOrient().resize(fit).webp({ quality: 75, effort: 2 });
        return small.toBuffer().catch((error: Error) => {
          throw fault('not-a-photo', `a photo that cannot be decoded (${error.message.split('\n')[0]})`);
        });
      }
      const raster = (await decoded(path)).raster;
      const raw = { width: raster.widthPx, height: raster.heightPx, channels: 4 } as const;
      return sharp(raster.data, { raw }).resize(fit).webp({ quality: 75, effort: 2 }).toBuffer();
    });

  /** The row straightened by what a count of this photo found. Throws a fault when the count has no scale. */
  const strip = (photo: StoredPhoto, path: string, count: CountResult): Promise<Buffer> => {
    const { reference, stretch } = count;
    const { photoToGround } = reference;
    if (photoToGround === null || stretch === null) {
      throw fault('no-strip', `a count without a scale (${reference.reason ?? reference.kind})`);
    }
    const version = sha256Of(JSON.stringify([photoToGround, stretch])).slice(0, 12);
    return kept(`${photo.sha256}-strip-${version}.webp`, async () => {
      const { raster, photoPxPerRasterPx } = await decoded(path);
      const { raster: row } = straighten(raster, fromPhotoPixels(photoToGround, 1 / photoPxPerRasterPx), {
        fromM: stretch.fromM,
        toM: stretch.toM,
        acrossFromM: -STRIP_HALF_WIDTH_M,
        acrossToM: STRIP_HALF_WIDTH_M,
        camera: null,
      });
      const raw = { width: row.widthPx, height: row.heightPx, channels: 4 } as const;
      return sharp(row.data, { raw }).webp({ quality: 80, effort: 2 }).toBuffer();
    });
  };

  return { thumbnail, strip };
}

async function decoded(path: string) {
  const read = await decodePhoto(await readFile(path), 'this photo');
  if (!read.ok) throw fault('not-a-photo', read.found, { wanted: read.wanted });
  return read.value;
}
