/** Bytes from the start of a file that are enough to tell its type. */
export const TYPE_BYTES = 32;

/** The media type of a photo by its first bytes; null when it is none of those a phone or camera writes. */
export function photoType(start: Uint8Array): string | null {
  const text = (from: number, to: number) => String.fromCharCode(...start.subarray(from, to));
  if (start[0] === 0xff && start[1] === 0xd8 && start[2] === 0xff) return 'image/jpeg';
  if (text(0, 8) === '\x89PNG\r\n\x1a\n') return 'image/png';
  if (text(0, 4) === 'RIFF' && text(8, 12) === 'WEBP') return 'image/webp';
  if (text(4, 8) !== 'ftyp') return null;
  const brand = text(8, 12);
  if (brand === 'avif' || brand === 'avis') return 'image/avif';
  return ['heic', 'heix', 'hevc', 'heim', 'heis', 'mif1', 'msf1'].includes(brand) ? 'image/heic' : null;
}
