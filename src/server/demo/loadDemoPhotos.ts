import { createReadStream, existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { PhotoResult } from '../../core/visit/countSchema.ts';
import type { Archive } from '../openArchive.ts';
import { sampleImages } from '../packageRoot.ts';
import { acceptRecords } from '../store/acceptRecords.ts';
import { COUNTS_FILE, DEMO_PHOTOS, demoPhotoRecords } from './demoPhotos.ts';

/**
 * Adds two dated visits with photos to the demonstration farm. False, and nothing done, where the sample images are not
 * at hand: they are no part of an installed package.
 */
export async function loadDemoPhotos({ db, photos, now }: Archive): Promise<boolean> {
  const folder = sampleImages();
  if (folder === null || !existsSync(join(folder, COUNTS_FILE))) return false;
  const results = JSON.parse(readFileSync(join(folder, COUNTS_FILE), 'utf8')) as Record<string, PhotoResult>;
  for (const { file } of DEMO_PHOTOS) {
    await photos.take(results[file]!.photo.sha256, createReadStream(join(folder, file)));
  }
  const { refused } = await acceptRecords(db, demoPhotoRecords(results), now());
  const [first] = refused;
  if (first !== undefined) throw new Error(`the demonstration photos were refused: ${first.id}: ${first.message}`);
  return true;
}
