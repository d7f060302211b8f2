import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fillHoles } from '../../../src/core/raster/fillHoles.ts';
import { fillPolygons } from '../../../src/core/raster/fillPolygons.ts';
import { growMask } from '../../../src/core/raster/growMask.ts';
import type { Mask } from '../../../src/core/raster/raster.ts';
import { smoothMask } from '../../../src/core/raster/smoothMask.ts';
import { fieldToText, maskFromText, picture } from '../../support/maskText.ts';

const masks = fc
  .record({ widthPx: fc.integer({ min: 1, max: 14 }), heightPx: fc.integer({ min: 1, max: 10 }) })
  .chain(({ widthPx, heightPx }) =>
    fc
      .array(fc.integer({ min: 0, max: 1 }), { minLength: widthPx * heightPx, maxLength: widthPx * heightPx })
      .map((list): Mask => ({ widthPx, heightPx, data: Uint8Array.from(list) })),
  );

describe('smoothMask', () => {
  it('takes specks off, closes single holes and keeps a line two pixels wide', () => {
    const before = maskFromText(`
      #.........
      ...#####..
      ...##.##..
      ...#####..
      ..........
      ##########
      ##########`);
    expect(fieldToText(smoothMask(before))).toBe(
      picture(`
      ..........
      ...#####..
      ...#####..
      ...#####..
      ...#####..
      ##########
      ##########`),
    );
  });

  it('equals a count of the nine neighbours, pixel by pixel', () => {
    fc.assert(
      fc.property(masks, (mask) => {
        const { widthPx: w, heightPx: h, data } = mask;
        const got = smoothMask(mask);
        for (let y = 0; y < h; y++) {
          for (let x = 0; x < w; x++) {
            let n = 0;
            for (let v = y - 1; v <= y + 1; v++) {
              for (let u = x - 1; u <= x + 1; u++) if (u >= 0 && v >= 0 && u < w && v < h) n += data[v * w + u]!;
            }
            const want = n >= 5 || (n === 4 && data[y * w + x] === 1) ? 1 : 0;
            expect(got.data[y * w + x]).toBe(want);
          }
        }
      }),
    );
  });
});

describe('growMask', () => {
  it('follows weak pixels from strong ones as far as it may reach, and no others', () => {
    const strong = maskFromText(`
      #.........
      ..........`);
    const weak = maskFromText(`
      .####..###
      ..........`);
    expect(fieldToText(growMask(strong, weak, 2))).toBe(
      picture(`
      ###.......
      ..........`),
    );
    expect(fieldToText(growMask(strong, weak, 99))).toBe(
      picture(`
      #####.....
      ..........`),
    );
    expect(fieldToText(growMask(strong, weak, 0))).toBe(fieldToText(strong));
  });
});

describe('fillHoles', () => {
  const leaf = maskFromText(`
    ########...
    #......#...
    #.####.#.##
    #.#..#.#.##
    #.####.#...
    #......#...
    ########...`);

  it('fills small holes and leaves large and open ones', () => {
    expect(fieldToText(fillHoles(leaf, 4))).toBe(
      picture(`
      ########...
      #......#...
      #.####.#.##
      #.####.#.##
      #.####.#...
      #......#...
      ########...`),
    );
  });

  it('fills a hole of any size that is mostly glare', () => {
    const ring = maskFromText(`
      #####
      #...#
      #...#
      ##.##`);
    expect(fieldToText(fillHoles(ring, 0, () => true))).toBe(fieldToText(ring));
    const closed = maskFromText(`
      #####
      #...#
      #...#
      #####`);
    expect(fillHoles(closed, 0, () => true).data.every((v) => v === 1)).toBe(true);
    expect(fieldToText(fillHoles(closed, 0))).toBe(fieldToText(closed));
  });

  it('never takes a pixel away, and is the same done twice', () => {
    fc.assert(
      fc.property(masks, fc.integer({ min: 0, max: 9 }), (mask, area) => {
        const once = fillHoles(mask, area);
        for (let i = 0; i < mask.data.length; i++) expect(once.data[i]! >= mask.data[i]!).toBe(true);
        expect(fillHoles(once, area).data).toEqual(once.data);
      }),
    );
  });
});

describe('fillPolygons', () => {
  it('marks the pixels whose centre lies inside', () => {
    const triangle = [
      [0, 0],
      [8, 0],
      [0, 4],
    ] as const;
    expect(fieldToText(fillPolygons(9, 5, [triangle]))).toBe(
      picture(`
      #########
      #######..
      #####....
      ###......
      .........`),
    );
  });

  it('has the area of the polygon, and is empty for none or a line', () => {
    const square = [
      [2.5, 1.5],
      [22.5, 1.5],
      [22.5, 11.5],
      [2.5, 11.5],
    ] as const;
    expect(fillPolygons(30, 20, [square]).data.reduce((a, b) => a + b, 0)).toBe(200);
    expect(fillPolygons(30, 20, []).data.some((v) => v === 1)).toBe(false);
    const line = [
      [1, 1],
      [9, 1],
    ] as const;
    expect(fillPolygons(30, 20, [line]).data.some((v) => v === 1)).toBe(false);
  });
});
