import { randomBytes } from 'node:crypto';
import { readFileSync } from 'node:fs';
import sharp, { type Sharp } from 'sharp';
import { describe, expect, it } from 'vitest';
import { decodePhoto, readPhoto } from '../../src/node/readPhoto.ts';
import { colourAt, DRAWN_HEIGHT_PX, DRAWN_WIDTH_PX, drawnPhoto } from '../support/drawnPhoto.ts';

const jpeg = await drawnPhoto().jpeg({ quality: 95, chromaSubsampling: '4:4:4' }).toBuffer();
const png = await drawnPhoto().png().toBuffer();
const webp = await drawnPhoto().webp({ quality: 95 }).toBuffer();
const avif = await drawnPhoto().avif({ effort: 0, quality: 90 }).toBuffer();
const heic = readFileSync(new URL('../fixtures/drawn.heic', import.meta.url));

/** Every part of a file that is not the whole file. */
function cuts(bytes: Buffer, shares: readonly number[]): Buffer[] {
  return shares.map((share) => bytes.subarray(0, Math.floor(bytes.length * share)));
}

/** A PNG whose header claims a size that its data does not have. */
function pngClaiming(widthPx: number, heightPx: number): Buffer {
  const copy = Buffer.from(png);
  copy.writeUInt32BE(widthPx, 16);
  copy.writeUInt32BE(heightPx, 20);
  return copy;
}

/** A JPEG whose frame header claims another size. */
function jpegClaiming(widthPx: number, heightPx: number): Buffer {
  const copy = Buffer.from(jpeg);
  const sof = copy.indexOf(Buffer.from([0xff, 0xc0]));
  copy.writeUInt16BE(heightPx, sof + 5);
  copy.writeUInt16BE(widthPx, sof + 7);
  return copy;
}

const SHARES = [0.002, 0.01, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95];
const noise = Buffer.from(randomBytes(4096));

const REFUSED: [string, Buffer][] = [
  ...cuts(jpeg, SHARES).map((b, i): [string, Buffer] => [`JPEG cut at ${SHARES[i]}`, b]),
  ...cuts(png, SHARES).map((b, i): [string, Buffer] => [`PNG cut at ${SHARES[i]}`, b]),
  ...cuts(webp, SHARES).map((b, i): [string, Buffer] => [`WebP cut at ${SHARES[i]}`, b]),
  ...cuts(avif, [0.01, 0.1, 0.5, 0.8]).map((b, i): [string, Buffer] => [`AVIF cut ${i}`, b]),
  ...cuts(heic, [0.01, 0.1, 0.5, 0.8]).map((b, i): [string, Buffer] => [`HEIC cut ${i}`, b]),
  ['random bytes', noise],
  ['one byte', Buffer.from([0xff])],
  ['a JPEG beginning and then noise', Buffer.concat([jpeg.subarray(0, 200), noise])],
  ['text', Buffer.from('27 plants in ten feet')],
  ['an SVG', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="400" height="300"/>')],
  ['an SVG bomb', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="400000" height="300000"/>')],
  ['a PDF beginning', Buffer.from('%PDF-1.4\n1 0 obj<<>>endobj')],
  ['a zip beginning', Buffer.from('PK\u0003\u0004\u0014\u0000')],
  ['a GIF', await drawnPhoto().gif().toBuffer()],
  ['a TIFF', await drawnPhoto().tiff().toBuffer()],
  ['a PNG claiming 100000 x 100000', pngClaiming(100_000, 100_000)],
  ['a PNG claiming 12001 x 10001', pngClaiming(12_001, 10_001)],
  ['a PNG claiming no width', pngClaiming(0, 240)],
  ['a JPEG claiming 65500 x 65500', jpegClaiming(65_500, 65_500)],
  ['a JPEG claiming twice its rows', jpegClaiming(DRAWN_WIDTH_PX, DRAWN_HEIGHT_PX * 2)],
  ['a PNG of one pixel', await drawnPhoto().resize(1, 1).png().toBuffer()],
  ['a PNG of 4000 x 1', await drawnPhoto().resize(4000, 1, { fit: 'fill' }).png().toBuffer()],
];

const READ: [string, Buffer][] = [
  ['JPEG', jpeg],
  ['PNG', png],
  ['WebP', webp],
  ['AVIF', avif],
  ['HEIC', heic],
  ['progressive JPEG', await drawnPhoto().jpeg({ progressive: true }).toBuffer()],
  ['16-bit PNG', await drawnPhoto().toColourspace('rgb16').png().toBuffer()],
  ['palette PNG', await drawnPhoto().png({ palette: true }).toBuffer()],
  ['PNG with alpha', await drawnPhoto().ensureAlpha(0.999).png().toBuffer()],
  [
    'animated WebP, first picture',
    await sharp([png, png], { join: { animated: true } })
      .webp()
      .toBuffer(),
  ],
  ['JPEG with bytes after its end', Buffer.concat([jpeg, noise])],
  ['JPEG with broken EXIF', withApp1(jpeg, Buffer.concat([Buffer.from('Exif\0\0'), noise.subarray(0, 300)]))],
  ['JPEG with an EXIF of zero length', withApp1(jpeg, Buffer.from('Exif\0\0'))],
  [
    'JPEG with a lying focal length',
    await drawnPhoto()
      .withExif({ IFD2: { FocalLengthIn35mmFilm: '0' } })
      .jpeg()
      .toBuffer(),
  ],
];

function withApp1(bytes: Buffer, body: Buffer): Buffer {
  const head = Buffer.from([0xff, 0xe1, 0, 0]);
  head.writeUInt16BE(body.length + 2, 2);
  return Buffer.concat([bytes.subarray(0, 2), head, body, bytes.subarray(2)]);
}

describe('broken and hostile files', () => {
  it('are at least 60 in this corpus', () => {
    expect(REFUSED.length + READ.length).toBeGreaterThanOrEqual(60);
  });

  it.each(REFUSED)('%s is refused in one plain line', async (_, bytes) => {
    const outcome = await decodePhoto(bytes, 'field.jpg');
    if (outcome.ok) throw new Error('was read');
    expect(outcome.found).toMatch(/^field\.jpg: /);
    expect(outcome.found).not.toMatch(/\n/);
    expect(outcome.next.length).toBeGreaterThan(5);
  });

  it.each(READ)('%s is read with the right picture', async (_, bytes) => {
    const outcome = await decodePhoto(bytes, 'field.jpg');
    if (!outcome.ok) throw new Error(outcome.found);
    const { raster } = outcome.value;
    expect([raster.widthPx, raster.heightPx]).toEqual([DRAWN_WIDTH_PX, DRAWN_HEIGHT_PX]);
    expect(colourAt(raster.data, raster.widthPx, 30, 30)).toBe('red');
    expect(colourAt(raster.data, raster.widthPx, 290, 30)).toBe('green');
    expect(colourAt(raster.data, raster.widthPx, 160, 120)).toBe('brown');
  });

  it('a CMYK JPEG is read in about its colours (pure green is outside the ink gamut)', async () => {
    const outcome = await decodePhoto(await drawnPhoto().toColourspace('cmyk').jpeg().toBuffer(), 'field.jpg');
    if (!outcome.ok) throw new Error(outcome.found);
    const { data, widthPx } = outcome.value.raster;
    expect([colourAt(data, widthPx, 30, 30), colourAt(data, widthPx, 160, 120)]).toEqual(['red', 'brown']);
  });

  it('a missing file, a folder and an empty file are told apart', async () => {
    const codes = await Promise.all(
      ['/nowhere/x.jpg', '/tmp', '/dev/null'].map(async (p) => (await readPhoto(p)) as { code?: string }),
    );
    expect(codes.map((c) => c.code)).toEqual(['unreadable', 'not-a-file', 'not-a-file']);
  });
});

describe('EXIF orientation', () => {
  /** EXIF 2.32, tag 0x0112: where the 0th row and 0th column of the stored picture lie. (sharp flops before it turns.) */
  const stored: Record<number, (s: Sharp) => Sharp> = {
    1: (s) => s,
    2: (s) => s.flop(),
    3: (s) => s.rotate(180),
    4: (s) => s.flip(),
    5: (s) => s.rotate(270).flop(),
    6: (s) => s.rotate(270),
    7: (s) => s.rotate(90).flop(),
    8: (s) => s.rotate(90),
  };
  it.each([1, 2, 3, 4, 5, 6, 7, 8])('%i comes out upright', async (orientation) => {
    const turned = await sharp(await stored[orientation]!(sharp(png)).png().toBuffer())
      .withMetadata({ orientation })
      .jpeg({ quality: 95 })
      .toBuffer();
    const outcome = await decodePhoto(turned, 'field.jpg');
    if (!outcome.ok) throw new Error(outcome.found);
    const { data, widthPx, heightPx } = outcome.value.raster;
    expect([widthPx, heightPx]).toEqual([DRAWN_WIDTH_PX, DRAWN_HEIGHT_PX]);
    const corners = [
      [30, 30],
      [290, 30],
      [30, 210],
      [290, 210],
    ].map(([x, y]) => colourAt(data, widthPx, x!, y!));
    expect(corners).toEqual(['red', 'green', 'blue', 'yellow']);
  });
});
