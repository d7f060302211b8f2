/** Format and size that a picture file claims, read from its first bytes; null when it is none of these formats. */
export interface PictureClaim {
  readonly format: 'jpeg' | 'png' | 'webp' | 'avif' | 'heic';
  /** Null where the size stands too deep in the file to be read here. */
  readonly size: { readonly widthPx: number; readonly heightPx: number } | null;
}

/**
 * Browsers decode a picture whole before they tell its size, so a bomb must be known by its header first. JPEG by its
 * frame header (ITU-T T.81 B.2.2), PNG by IHDR (ISO/IEC 15948), WebP by its first chunk (RFC 9649), AVIF and HEIC by
 * the brand of `ftyp` and the first `ispe` property (ISO/IEC 23008-12).
 */
export function pictureSize(bytes: Uint8Array): PictureClaim | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const ascii = (at: number, length: number) => String.fromCharCode(...bytes.subarray(at, at + length));
  if (bytes.length < 32) return null;
  if (view.getUint16(0) === 0xffd8) return { format: 'jpeg', size: jpegSize(view) };
  if (view.getUint32(0) === 0x89504e47) {
    return { format: 'png', size: { widthPx: view.getUint32(16), heightPx: view.getUint32(20) } };
  }
  if (ascii(0, 4) === 'RIFF' && ascii(8, 4) === 'WEBP') return { format: 'webp', size: webpSize(view, ascii(12, 4)) };
  if (ascii(4, 4) === 'ftyp') {
    const brands = ascii(8, Math.min(view.getUint32(0), 64) - 8);
    const format = /avi[fs]/.test(brands) ? 'avif' : /hei[cxs]|hev[cx]|mif1/.test(brands) ? 'heic' : null;
    return format === null ? null : { format, size: ispeSize(bytes, view) };
  }
  return null;
}

function jpegSize(view: DataView): PictureClaim['size'] {
  let at = 2;
  while (at + 9 < view.byteLength) {
    if (view.getUint8(at) !== 0xff) return null;
    const marker = view.getUint8(at + 1);
    if (marker === 0xff) {
      at++;
      continue;
    }
    const isFrame = marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;
    if (isFrame) return { widthPx: view.getUint16(at + 7), heightPx: view.getUint16(at + 5) };
    at += 2 + view.getUint16(at + 2);
  }
  return null;
}

function webpSize(view: DataView, chunk: string): PictureClaim['size'] {
  if (chunk === 'VP8X') {
    const three = (at: number) => view.getUint16(at, true) + (view.getUint8(at + 2) << 16) + 1;
    return { widthPx: three(24), heightPx: three(27) };
  }
  if (chunk === 'VP8L') {
    const bits = view.getUint32(21, true);
    return { widthPx: (bits & 0x3fff) + 1, heightPx: ((bits >> 14) & 0x3fff) + 1 };
  }
  return { widthPx: view.getUint16(26, true) & 0x3fff, heightPx: view.getUint16(28, true) & 0x3fff };
}

function ispeSize(bytes: Uint8Array, view: DataView): PictureClaim['size'] {
  const limit = Math.min(bytes.length - 16, 65_536);
  let best: PictureClaim['size'] = null;
  for (let at = 0; at < limit; at++) {
    if (view.getUint32(at) !== 0x69737065) continue;
    const size = { widthPx: view.getUint32(at + 8), heightPx: view.getUint32(at + 12) };
    if (best === null || size.widthPx * size.heightPx > best.widthPx * best.heightPx) best = size;
  }
  return best;
}
