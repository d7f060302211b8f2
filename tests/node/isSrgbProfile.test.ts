import { readFileSync } from 'node:fs';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { isSrgbProfile } from '../../src/node/isSrgbProfile.ts';
import { decodePhoto } from '../../src/node/readPhoto.ts';

/** The profile of IEC 61966-2-1 by Hewlett-Packard (version 2), as pdfkit carries it. */
const OF_1998 = 'node_modules/pdfkit/js/data/sRGB_IEC61966_2_1.icc';
const RED = { r: 200, g: 50, b: 50 };
const plain = () => sharp({ create: { width: 64, height: 64, channels: 3, background: RED } });
const profileOf = async (picture: Buffer) => (await sharp(picture).metadata()).icc!;
const firstPixel = async (bytes: Buffer) => {
  const read = await decodePhoto(bytes, 'red.png');
  if (!read.ok) throw new Error(read.found);
  return [...read.value.raster.data.subarray(0, 3)];
};

describe('a profile that is sRGB already', () => {
  test('is known by its name, of version 2 and of version 4', async () => {
    expect(isSrgbProfile(readFileSync(OF_1998))).toBe(true);
    expect(isSrgbProfile(await profileOf(await plain().withIccProfile('srgb').png().toBuffer()))).toBe(true);
  });

  test('others are not, nor what is cut short or no profile', async () => {
    expect(isSrgbProfile(await profileOf(await plain().withIccProfile('p3').png().toBuffer()))).toBe(false);
    const whole = readFileSync(OF_1998);
    for (const length of [0, 1, 127, 131, 140, 200]) expect(isSrgbProfile(whole.subarray(0, length))).toBe(false);
    expect(isSrgbProfile(new Uint8Array(4096).fill(255))).toBe(false);
  });

  test('leaves pixels as they are stored; those of a wider space are brought to sRGB', async () => {
    const { r, g, b } = RED;
    expect(await firstPixel(await plain().png().toBuffer())).toEqual([r, g, b]);
    expect(await firstPixel(await plain().withIccProfile('srgb').png().toBuffer())).toEqual([r, g, b]);
    const wide = await plain().withIccProfile('p3').png().toBuffer();
    // the stored numbers are others: the same red is less of Display P3's
    expect([...(await sharp(wide, { ignoreIcc: true }).raw().toBuffer()).subarray(0, 3)]).not.toEqual([r, g, b]);
    // a step up or down: twice rounded to 8 bits
    (await firstPixel(wide)).forEach((value, c) => {
      expect(Math.abs(value - [r, g, b][c]!)).toBeLessThanOrEqual(1);
    });
  });
});
