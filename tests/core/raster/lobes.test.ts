import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chamferDistance } from '../../../src/core/raster/chamferDistance.ts';
import type { Mask } from '../../../src/core/raster/raster.ts';
import { splitBasins } from '../../../src/core/raster/splitBasins.ts';
import { floodLabels } from '../../support/floodLabels.ts';
import { maskFromText } from '../../support/maskText.ts';

const masks = fc
  .tuple(
    fc.integer({ min: 1, max: 16 }),
    fc.integer({ min: 1, max: 12 }),
    fc.double({ min: 0.1, max: 0.9, noNaN: true }),
  )
  .chain(([widthPx, heightPx, share]) =>
    fc
      .array(fc.double({ min: 0, max: 1, noNaN: true }), {
        minLength: widthPx * heightPx,
        maxLength: widthPx * heightPx,
      })
      .map((list): Mask => ({ widthPx, heightPx, data: Uint8Array.from(list, (v) => (v < share ? 1 : 0)) })),
  );

describe('chamferDistance', () => {
  // Borgefors 1986 gives 8.1 % as the largest error of the 3-4 chamfer against the Euclidean distance.
  it('stays within 8.1 % of the true distance to the nearest outside pixel', () => {
    fc.assert(
      fc.property(masks, (mask) => {
        const { widthPx: w, data } = mask;
        if (data.every((v) => v === 1)) return;
        const got = chamferDistance(mask).data;
        const outside = [...data.keys()].filter((i) => data[i] === 0);
        for (let i = 0; i < data.length; i++) {
          if (data[i] === 0) {
            expect(got[i]).toBe(0);
            continue;
          }
          const near = Math.min(
            ...outside.map((j) => Math.hypot((i % w) - (j % w), Math.floor(i / w) - Math.floor(j / w))),
          );
          expect(got[i]! / 3).toBeGreaterThan(near * (1 - 0.081));
          expect(got[i]! / 3).toBeLessThan(near * (1 + 0.081));
        }
      }),
    );
  });
});

describe('splitBasins', () => {
  const twoLeaves = maskFromText(`
    ....................
    ..####.......####...
    .######.....######..
    .#######...#######..
    .#################..
    .#######...#######..
    .######.....######..
    ..####.......####...
    ....................`);
  const oneLeaf = maskFromText(`
    ....................
    ..####...####.......
    .##############.....
    .################...
    .#################..
    .################...
    .###############....
    ..####..#####.......
    ....................`);

  it('parts two leaves on a petiole and keeps one wavy leaf whole', () => {
    expect(splitBasins(twoLeaves, chamferDistance(twoLeaves), 0.8).count).toBe(2);
    expect(splitBasins(oneLeaf, chamferDistance(oneLeaf), 0.8).count).toBe(1);
  });

  it('covers the mask, gives each component at least one lobe, and fewer lobes for a lower pass share', () => {
    fc.assert(
      fc.property(masks, (mask) => {
        const distance = chamferDistance(mask);
        const { labels, count, summits } = splitBasins(mask, distance, 0.8);
        for (let i = 0; i < mask.data.length; i++) expect(labels.data[i]! > 0).toBe(mask.data[i] === 1);
        expect(count).toBeGreaterThanOrEqual(Math.max(...floodLabels(mask)));
        expect(summits.length).toBe(count + 1);
        expect(splitBasins(mask, distance, 0.4).count).toBeLessThanOrEqual(count);
      }),
    );
  });
});
