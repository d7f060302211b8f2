import exifr from 'exifr';
import type { PhotoFacts } from '../core/count/photo.ts';

export const NO_FACTS: PhotoFacts = { takenAt: null, position: null, focal35Mm: null };

/**
 * Time, position and focal length from a photo's metadata. exifr reads JPEG, PNG, AVIF; it cannot read every HEIC, so
 * those go through exifreader. Broken metadata is no reason to refuse a photo: what cannot be read is null.
 */
export async function readPhotoFacts(bytes: Uint8Array, isHeic: boolean): Promise<PhotoFacts> {
  try {
    return isHeic ? await fromExifReader(bytes) : await fromExifr(bytes);
  } catch {
    return NO_FACTS;
  }
}

async function fromExifr(bytes: Uint8Array): Promise<PhotoFacts> {
  const tags = await exifr.parse(bytes, {
    reviveValues: false,
    pick: [
      'DateTimeOriginal',
      'OffsetTimeOriginal',
      'FocalLengthIn35mmFormat',
      'GPSLatitude',
      'GPSLongitude',
      'GPSLatitudeRef',
      'GPSLongitudeRef',
    ],
  });
  if (tags === undefined || tags === null) return NO_FACTS;
  return {
    takenAt: isoTime(tags.DateTimeOriginal, tags.OffsetTimeOriginal),
    position: placeOnEarth(tags.latitude, tags.longitude),
    focal35Mm: positive(tags.FocalLengthIn35mmFormat),
  };
}

async function fromExifReader(bytes: Uint8Array): Promise<PhotoFacts> {
  // Loaded only when a HEIC comes: pages stay small.
  const { default: ExifReader } = await import('exifreader');
  const copy = new Uint8Array(bytes).buffer;
  const tags = ExifReader.load(copy, { expanded: true });
  const exif = tags.exif ?? {};
  return {
    takenAt: isoTime(text(exif.DateTimeOriginal), text(exif.OffsetTimeOriginal)),
    position: placeOnEarth(tags.gps?.Latitude, tags.gps?.Longitude),
    focal35Mm: positive(exif.FocalLengthIn35mmFilm?.value),
  };
}

function text(tag: { value?: unknown } | undefined): unknown {
  return Array.isArray(tag?.value) ? tag.value[0] : tag?.value;
}

/** EXIF writes `2026:06:14 09:30:00`, zone apart or not at all: kept as local time, never guessed into another zone. */
function isoTime(time: unknown, offset: unknown): string | null {
  const m = typeof time === 'string' ? /^(\d{4}):(\d\d):(\d\d) (\d\d):(\d\d):(\d\d)/.exec(time) : null;
  if (m === null) return null;
  const [, year, month, day, hour, minute, second] = m;
  if (Number(month) < 1 || Number(month) > 12 || Number(day) < 1 || Number(day) > 31) return null;
  const zone = typeof offset === 'string' && /^([+-]\d\d:\d\d|Z)$/.test(offset) ? offset : '';
  return `${year}-${month}-${day}T${hour}:${minute}:${second}${zone}`;
}

function placeOnEarth(latitude: unknown, longitude: unknown): PhotoFacts['position'] {
  if (typeof latitude !== 'number' || typeof longitude !== 'number') return null;
  if (!(Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180)) return null;
  if (latitude === 0 && longitude === 0) return null;
  return { latitudeDeg: latitude, longitudeDeg: longitude };
}

function positive(value: unknown): number | null {
  const number = Array.isArray(value) ? value[0] : value;
  return typeof number === 'number' && Number.isFinite(number) && number > 0 ? number : null;
}
