import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { applyHomography, type Homography } from '../../../src/core/geometry/homography.ts';
import { halve } from '../../../src/core/raster/halve.ts';
import type { Raster } from '../../../src/core/raster/raster.ts';
import { sampleBilinear } from '../../../src/core/raster/sampleBilinear.ts';
import { warp } from '../../../src/core/raster/warp.ts';

const picture = (maxPx: number) =>
  fc
    .record({ widthPx: fc.integer({ min: 2, max: maxPx }), heightPx: fc.integer({ min: 2, max: maxPx }) })
    .chain(({ widthPx, heightPx }) =>
      fc
        .uint8Array({ minLength: widthPx * heightPx * 4, maxLength: widthPx * heightPx * 4 })
        .map((data): Raster => ({ widthPx, heightPx, data })),
    );

describe('halve', () => {
  test('is the rounded mean of four pixels, content only where all four have full content', () => {
    fc.assert(
      fc.property(picture(9), ({ widthPx, heightPx, data }) => {
        const half = halve({ widthPx, heightPx, data });
        for (let y = 0; y < half.heightPx; y++) {
          for (let x = 0; x < half.widthPx; x++) {
            const four = [0, 1, widthPx, widthPx + 1].map((d) => 4 * (2 * y * widthPx + 2 * x + d));
            const at = 4 * (y * half.widthPx + x);
            for (const c of [0, 1, 2]) {
              const sum = four.reduce((total, i) => total + data[i + c]!, 0);
              expect(half.data[at + c]).toBe(Math.floor((sum + 2) / 4));
            }
            expect(half.data[at + 3]).toBe(Math.min(...four.map((i) => data[i + 3]!)));
          }
        }
      }),
    );
  });

  test('takes pixels that do not begin on a word', () => {
    const bytes = Uint8Array.from([0, 10, 20, 30, 255, 20, 30, 40, 255, 30, 40, 50, 255, 40, 50, 60, 255]);
    expect([...halve({ widthPx: 2, heightPx: 2, data: bytes.subarray(1) }).data]).toEqual([25, 35, 45, 255]);
  });
});

describe('warp', () => {
  const maps: readonly Homography[] = [
    [1, 0, 0, 0, 1, 0, 0, 0, 1],
    [0.7, 0.2, -1, -0.1, 0.9, 1, 0, 0, 1],
    [1.1, 0.1, 0.3, 0.05, 1.3, -0.4, 0.02, 0.03, 1],
  ];

  test('shows each place as the sampler of single places does, also across the border', () => {
    fc.assert(
      fc.property(picture(12), fc.constantFrom(...maps), (source, map) => {
        const out = warp(source, map, 9, 7, 1);
        const one = new Uint8Array(4);
        for (let i = 0; i < 63; i++) {
          one.fill(0);
          sampleBilinear(source, ...applyHomography(map, [i % 9, Math.floor(i / 9)]), one, 0);
          const shown = [...out.data.subarray(4 * i, 4 * i + 4)];
          // the order of the sums may turn a half up or down
          for (const [c, value] of one.entries()) expect(Math.abs(shown[c]! - value)).toBeLessThanOrEqual(1);
        }
      }),
    );
  });

  test('a mean of four samples keeps a flat colour and leaves empty what lies outside', () => {
    const data = new Uint8Array(4 * 36).fill(0).map((_, i) => [7, 200, 131, 255][i % 4]!);
    const out = warp({ widthPx: 6, heightPx: 6, data }, [2, 0, 0, 0, 2, 0, 0, 0, 1], 5, 2, 2);
    const rows = [0, 1].map((y) =>
      Array.from({ length: 5 }, (_, x) => [...out.data.subarray(4 * (5 * y + x), 4 * (5 * y + x) + 4)].join()),
    );
    const flat = '7,200,131,255';
    expect(rows).toEqual([
      [flat, flat, flat, flat, '0,0,0,0'],
      [flat, flat, flat, flat, '0,0,0,0'],
    ]);
  });
});
