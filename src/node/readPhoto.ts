import { createHash } from 'node:crypto';
import { readFile, stat } from 'node:fs/promises';
import sharp from 'sharp';
import type { Photo } from '../core/count/photo.ts';
import { cannot, good, type Outcome } from '../core/faults/outcome.ts';
import { halve } from '../core/raster/halve.ts';
import type { Raster } from '../core/raster/raster.ts';
import { MOST_BYTES, MOST_PIXELS, SHRINK_ABOVE_PX, SMALLEST_SIDE_PX, WANTED_PHOTO } from '../worker/photoLimits.ts';
import { readPhotoFacts } from '../worker/readPhotoFacts.ts';
import { decodeHeic } from './decodeHeic.ts';
import { isSrgbProfile } from './isSrgbProfile.ts';

const LONGEST_DECODE_S = 20;
const WANTED = WANTED_PHOTO;

/** Reads one photo file from disk. See `decodePhoto` for what is accepted. */
export async function readPhoto(path: string): Promise<Outcome<Photo>> {
  try {
    const info = await stat(path);
    if (!info.isFile()) return cannot('not-a-file', `${path} is not a file`, WANTED, 'Give the path of one photo.');
    if (info.size === 0) return cannot('empty-file', `${path} is empty`, WANTED, 'Copy the photo again.');
    if (info.size > MOST_BYTES) {
      return cannot(
        'too-large',
        `${path} holds ${Math.round(info.size / 1048576)} MB`,
        WANTED,
        'Export a smaller copy.',
      );
    }
    return await decodePhoto(await readFile(path), path);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    const found =
      code === 'ENOENT' ? `there is no file ${path}` : `${path} could not be read (${code ?? 'unknown cause'})`;
    return cannot('unreadable', found, WANTED, 'Check the path and its permissions.');
  }
}

/**
 * Turns the bytes of a photo into upright sRGB pixels with what the file says about time, place and lens.
 * Refuses, in plain words: other formats, damaged or truncated data, more than 120 megapixels, less than 32 pixels.
 */
export async function decodePhoto(bytes: Buffer, file: string): Promise<Outcome<Photo>> {
  const refuse = (code: string, found: string, next: string) => cannot(code, `${file}: ${found}`, WANTED, next);
  let format: string | undefined;
  let isHeic = false;
  let ignoreIcc = false;
  try {
    const meta = await sharp(bytes, { limitInputPixels: false, failOn: 'none' }).metadata();
    format = meta.format;
    ignoreIcc = meta.icc !== undefined && isSrgbProfile(meta.icc);
    isHeic = format === 'heif' && meta.compression === 'hevc';
    const pixels = (meta.width ?? 0) * (meta.height ?? 0);
    if (pixels > MOST_PIXELS) {
      return refuse('too-large', `${meta.width} x ${meta.height} pixels`, 'Export a smaller copy.');
    }
    if (Math.min(meta.width ?? 0, meta.height ?? 0) < SMALLEST_SIDE_PX) {
      return refuse('too-small', `only ${meta.width} x ${meta.height} pixels`, 'Use the original photo.');
    }
  } catch {
    return refuse('not-a-photo', 'this is not a photo, or its beginning is damaged', 'Use the original file.');
  }
  if (!['jpeg', 'png', 'webp', 'heif'].includes(format ?? '')) {
    return refuse('not-a-photo', `a ${format} file`, 'Save it as JPEG.');
  }
  try {
    // the decoder has a thread of its own: the rest is read meanwhile
    const decoding = isHeic ? decodeHeic(bytes, MOST_PIXELS) : decodeWithSharp(bytes, ignoreIcc);
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    const [full, facts] = await Promise.all([decoding, readPhotoFacts(bytes, isHeic)]);
    const shrink = full.widthPx * full.heightPx > SHRINK_ABOVE_PX;
    return good({
      file,
      sha256,
      widthPx: full.widthPx,
      heightPx: full.heightPx,
      raster: shrink ? halve(full) : full,
      photoPxPerRasterPx: shrink ? 2 : 1,
      facts,
    });
  } catch (error) {
    const why = (error as Error).message.split('\n')[0]?.slice(0, 120);
    return refuse('damaged', `damaged or cut short (${why})`, 'Copy the photo again from the camera.');
  }
}

/**
 * Anything that libjpeg and the others call corrupt refuses the photo, since half a picture would give half a count;
 * except stray bytes between markers, which some phones write and which harm nothing.
 */
async function decodeWithSharp(bytes: Buffer, ignoreIcc: boolean): Promise<Raster> {
  try {
    return await decodeStrictly(bytes, ignoreIcc, 'warning');
  } catch (error) {
    if (/extraneous bytes/.test((error as Error).message)) return decodeStrictly(bytes, ignoreIcc, 'error');
    throw error;
  }
}

async function decodeStrictly(bytes: Buffer, ignoreIcc: boolean, failOn: 'warning' | 'error'): Promise<Raster> {
  const { data, info } = await sharp(bytes, { limitInputPixels: MOST_PIXELS, failOn, ignoreIcc, pages: 1 })
    .timeout({ seconds: LONGEST_DECODE_S })
    .autoOrient()
    .flatten({ background: '#ffffff' })
    .toColourspace('srgb')
    .ensureAlpha()
    .raw({ depth: 'uchar' })
    .toBuffer({ resolveWithObject: true });
  return {
    widthPx: info.width,
    heightPx: info.height,
    data: new Uint8Array(data.buffer, data.byteOffset, data.length),
  };
}
