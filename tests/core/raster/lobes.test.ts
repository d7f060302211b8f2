import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chamferDistance } from '../../../src/core/raster/chamferDistance.ts';
import { labelComponents } from '../../../src/core/raster/labelComponents.ts';
import type { Mask } from '../../../src/core/raster/raster.ts';
import { splitBasins } from '../../../src/core/raster/splitBasins.ts';
import { fieldToText, maskFromText, picture } from '../../support/maskText.ts';

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

/** Components by plain flood fill: the slow way, to check the fast one. */
function floodLabels({ widthPx: w, heightPx: h, data }: Mask): Int32Array {
  const labels = new Int32Array(w * h);
  let count = 0;
  for (let start = 0; start < data.length; start++) {
    if (data[start] === 0 || labels[start] !== 0) continue;
    labels[start] = ++count;
    const queue = [start];
    for (const i of queue) {
      for (let v = -1; v <= 1; v++) {
        for (let u = -1; u <= 1; u++) {
          const x = (i % w) + u;
          const y = Math.floor(i / w) + v;
          if (x < 0 || y < 0 || x >= w || y >= h) continue;
          const j = y * w + x;
          if (data[j] === 0 || labels[j] !== 0) continue;
          labels[j] = count;
          queue.push(j);
        }
      }
    }
  }
  return labels;
}

describe('labelComponents', () => {
  it('joins arms that meet later, also over corners', () => {
    const { labels, count, areasPx } = labelComponents(
      maskFromText(`
      #.#..#
      #.#...
      ###.#.
      .....#`),
    );
    expect(fieldToText(labels, '1')).toBe(
      picture(`
      1.1..2
      1.1...
      111.3.
      .....3`),
    );
    expect(count).toBe(3);
    expect([...areasPx]).toEqual([0, 7, 1, 2]);
  });

  it('equals a flood fill on random pictures', () => {
    fc.assert(
      fc.property(masks, (mask) => {
        expect(labelComponents(mask).labels.data).toEqual(floodLabels(mask));
      }),
    );
  });
});

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
    expect(splitBasins(chamferDistance(twoLeaves), 0.8).count).toBe(2);
    expect(splitBasins(chamferDistance(oneLeaf), 0.8).count).toBe(1);
  });

  it('covers the mask, gives each component at least one lobe, and fewer lobes for a lower pass share', () => {
    fc.assert(
      fc.property(masks, (mask) => {
        const distance = chamferDistance(mask);
        const { labels, count, summits } = splitBasins(distance, 0.8);
        for (let i = 0; i < mask.data.length; i++) expect(labels.data[i]! > 0).toBe(mask.data[i] === 1);
        expect(count).toBeGreaterThanOrEqual(labelComponents(mask).count);
        expect(summits.length).toBe(count + 1);
        expect(splitBasins(distance, 0.4).count).toBeLessThanOrEqual(count);
      }),
    );
  });
});
