import type { Photo } from '../core/count/photo.ts';
import { cannot, good, type Outcome } from '../core/faults/outcome.ts';
import { halve } from '../core/raster/halve.ts';
import type { Raster } from '../core/raster/raster.ts';
import { MOST_BYTES, MOST_PIXELS, SHRINK_ABOVE_PX, SMALLEST_SIDE_PX, WANTED_PHOTO } from '../worker/photoLimits.ts';
import { readPhotoFacts } from '../worker/readPhotoFacts.ts';
import { pictureSize } from './pictureSize.ts';
import { readBitmap } from './readBitmap.ts';

/** In most files the size stands within so much of the start: the picture is decoded while the rest is read. */
const HEAD_BYTES = 65_536;

/** The browser's own decoder, upright and in sRGB; HEIC through libheif in WebAssembly. Works in a worker. */
export async function decodePhoto(blob: Blob, file: string): Promise<Outcome<Photo>> {
  const refuse = (code: string, found: string, next: string) => cannot(code, `${file}: ${found}`, WANTED_PHOTO, next);
  if (blob.size === 0) return refuse('empty-file', 'empty', 'Copy the photo again.');
  if (blob.size > MOST_BYTES) {
    return refuse('too-large', `${Math.round(blob.size / 1_048_576)} MB`, 'Export a smaller copy.');
  }
  const reading = blob.arrayBuffer().then((buffer) => new Uint8Array(buffer));
  // Told only when it is needed.
  reading.catch(() => undefined);
  const head = pictureSize(new Uint8Array(await blob.slice(0, HEAD_BYTES).arrayBuffer()));
  // Much metadata can stand before the size.
  const claim = head?.size === null ? pictureSize(await reading) : head;
  if (claim === null) return refuse('not-a-photo', 'this is not a photo', 'Use the original file.');
  const { widthPx = 0, heightPx = 0 } = claim.size ?? {};
  if (widthPx * heightPx > MOST_PIXELS) {
    return refuse('too-large', `${widthPx} x ${heightPx} pixels`, 'Export a smaller copy.');
  }
  if (claim.size !== null && Math.min(widthPx, heightPx) < SMALLEST_SIDE_PX) {
    return refuse('too-small', `only ${widthPx} x ${heightPx} pixels`, 'Use the original photo.');
  }
  try {
    const isHeic = claim.format === 'heic';
    const [full, hash, facts] = await Promise.all([
      isHeic ? reading.then(decodeHeic) : decodeHere(blob),
      reading.then(sha256),
      reading.then((bytes) => readPhotoFacts(bytes, isHeic)),
    ]);
    const shrink = full.widthPx * full.heightPx > SHRINK_ABOVE_PX;
    return good({
      file,
      sha256: hash,
      widthPx: full.widthPx,
      heightPx: full.heightPx,
      raster: shrink ? halve(full) : full,
      photoPxPerRasterPx: shrink ? 2 : 1,
      facts,
    });
  } catch (error) {
    return refuse('damaged', `damaged or cut short (${(error as Error).message})`, 'Copy the photo again.');
  }
}

async function decodeHere(blob: Blob): Promise<Raster> {
  const bitmap = await createImageBitmap(blob, { imageOrientation: 'from-image' });
  try {
    return await readBitmap(bitmap);
  } finally {
    bitmap.close();
  }
}

async function decodeHeic(bytes: Uint8Array): Promise<Raster> {
  const { default: libheif } = await import('libheif-js/libheif-wasm/libheif-bundle.mjs');
  const [image] = new (libheif().HeifDecoder)().decode(bytes);
  if (image === undefined) throw new Error('no picture inside');
  const widthPx = image.get_width();
  const heightPx = image.get_height();
  if (!(widthPx * heightPx <= MOST_PIXELS)) throw new Error(`${widthPx} x ${heightPx} pixels`);
  const target = new ImageData(widthPx, heightPx);
  await new Promise<void>((resolve, reject) => {
    image.display(target, (done) => (done ? resolve() : reject(new Error('the picture data is broken'))));
  });
  return { widthPx, heightPx, data: target.data };
}

async function sha256(bytes: Uint8Array): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', bytes as Uint8Array<ArrayBuffer>);
  return [...new Uint8Array(digest)].map((b) => b.toString(16).padStart(2, '0')).join('');
}
