import { rmSync } from 'node:fs';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import sharp from 'sharp';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { decodePhoto } from '../../src/node/readPhoto.ts';
import { newProfile, openBrowser, startServer } from './support.ts';

vi.setConfig({ testTimeout: 120_000, hookTimeout: 180_000 });

const SAMPLE = 'sample-images/side-tape-inch.jpg';
const small = () => sharp(SAMPLE).resize(401, 303);

/** A JPEG with 128 kB of metadata before its size: more than is read before the decoder starts. */
function behindMetadata(jpeg: Buffer): Buffer {
  const segment = Buffer.alloc(2 + 65_535);
  segment.writeUInt16BE(0xffed, 0);
  segment.writeUInt16BE(65_535, 2);
  return Buffer.concat([jpeg.subarray(0, 2), segment, segment, jpeg.subarray(2)]);
}

/** Most that a pixel may differ between the browser's and Node's decoder, in steps of 255, with the reason. */
const PICTURES: Readonly<Record<string, { readonly make: () => Promise<Buffer>; readonly most: number }>> = {
  // Both use libjpeg-turbo; nothing is left to round.
  'as the camera held it': { make: () => small().jpeg().toBuffer(), most: 0 },
  'larger than one copy': { make: () => sharp(SAMPLE).resize(2601, 1003, { fit: 'fill' }).jpeg().toBuffer(), most: 0 },
  'turned a quarter': { make: () => small().withMetadata({ orientation: 6 }).jpeg().toBuffer(), most: 0 },
  'upside down': { make: () => small().withMetadata({ orientation: 3 }).jpeg().toBuffer(), most: 0 },
  mirrored: { make: () => small().withMetadata({ orientation: 2 }).jpeg().toBuffer(), most: 0 },
  'behind much metadata': { make: async () => behindMetadata(await small().jpeg().toBuffer()), most: 0 },
  'grey alone': { make: () => small().greyscale().jpeg().toBuffer(), most: 0 },
  // Half see-through over white: each rounds once more.
  'see-through': { make: () => small().ensureAlpha(0.5).png().toBuffer(), most: 1 },
  // Two colour engines with tables of their own.
  'in wider colours': { make: () => small().withIccProfile('p3').jpeg({ quality: 95 }).toBuffer(), most: 3 },
};

type Decoded =
  | { readonly ok: true; readonly value: { readonly raster: { readonly data: Uint8ClampedArray } } }
  | { readonly ok: false; readonly found: string };

describe('a photo has the same pixels in Chromium and in Node, however the camera was held', () => {
  const profile = newProfile();
  let server: Awaited<ReturnType<typeof startServer>>;
  let browser: BrowserContext;
  let page: Page;

  beforeAll(async () => {
    server = await startServer({ demo: false });
    browser = await openBrowser(profile);
    page = browser.pages()[0] ?? (await browser.newPage());
    await page.goto(server.address);
    const made = await build({
      configFile: false,
      logLevel: 'error',
      build: {
        write: false,
        target: 'es2022',
        lib: { entry: join(process.cwd(), 'src/browser/decodePhoto.ts'), name: 'decoding', formats: ['iife'] },
      },
    });
    const [output] = made as { output: readonly { code: string }[] }[];
    await page.evaluate(`${output!.output[0]!.code}; globalThis.decoding = decoding;`);
  });
  afterAll(async () => {
    await browser.close();
    await server.close();
    rmSync(profile, { recursive: true, force: true });
  });

  /** The pixels as the browser reads them, and in how many copies of more than a row. */
  const inBrowser = (bytes: Buffer) =>
    page.evaluate(async (photo) => {
      const own = globalThis as typeof globalThis & {
        decoding: { decodePhoto: (blob: Blob, file: string) => Promise<Decoded> };
      };
      let copies = 0;
      const copyTo = VideoFrame.prototype.copyTo;
      VideoFrame.prototype.copyTo = function (to, options) {
        if ((options?.rect?.height ?? Number.POSITIVE_INFINITY) > 1) copies++;
        return copyTo.call(this, to, options);
      };
      const blob = new Blob([Uint8Array.from(atob(photo), (c) => c.charCodeAt(0))]);
      const decoded = await own.decoding.decodePhoto(blob, 'photo');
      VideoFrame.prototype.copyTo = copyTo;
      if (!decoded.ok) return { copies, pixels: '', refused: decoded.found };
      const { data } = decoded.value.raster;
      let text = '';
      for (let i = 0; i < data.length; i += 8192) text += String.fromCharCode(...data.subarray(i, i + 8192));
      return { copies, pixels: btoa(text), refused: null };
    }, bytes.toString('base64'));

  test.each(Object.entries(PICTURES))('%s', async (_name, { make, most }) => {
    const bytes = await make();
    const here = await decodePhoto(bytes, 'photo');
    if (!here.ok) throw new Error(here.found);
    const there = await inBrowser(bytes);
    const { data } = here.value.raster;
    const pixels = Buffer.from(there.pixels, 'base64');
    expect(pixels.length).toBe(data.length);
    const apart = pixels.reduce((worst, value, i) => Math.max(worst, Math.abs(value - data[i]!)), 0);
    expect(apart).toBeLessThanOrEqual(most);
  });

  test('a size too large for memory is refused before anything is decoded, also behind much metadata', async () => {
    const jpeg = await small().jpeg().toBuffer();
    // Height and width stand five and seven bytes into the frame header (ITU-T T.81 B.2.2).
    const frame = jpeg.indexOf(Buffer.from([0xff, 0xc0]));
    jpeg.writeUInt16BE(60_000, frame + 5);
    jpeg.writeUInt16BE(60_000, frame + 7);
    for (const bytes of [jpeg, behindMetadata(jpeg)]) {
      expect((await inBrowser(bytes)).refused).toBe('photo: 60000 x 60000 pixels');
    }
  });

  test('the quick way is taken where it is right, and only there', async () => {
    expect((await inBrowser(await PICTURES['as the camera held it']!.make())).copies).toBe(1);
    expect((await inBrowser(await PICTURES['larger than one copy']!.make())).copies).toBe(2);
    expect((await inBrowser(await PICTURES['turned a quarter']!.make())).copies).toBe(0);
    expect((await inBrowser(await PICTURES['see-through']!.make())).copies).toBe(0);
  });
});
