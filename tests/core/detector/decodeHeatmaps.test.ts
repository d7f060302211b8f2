import { describe, expect, it } from 'vitest';
import { decodeHeatmaps } from '../../../src/core/detector/decodeHeatmaps.ts';
import { cellsOf, mapsFrom } from './mapsFrom.ts';

const card = { stride: 2, floor: 0.15 };

describe('decodeHeatmaps', () => {
  it('finds the tops of the crown map, the strongest first', () => {
    const maps = mapsFrom(['.........', '.3.......', '.48....6.', '.3.....5.', '.........']);
    const peaks = decodeHeatmaps(maps, card);
    expect(peaks.map((p) => [p.score, ...p.crownPx])).toEqual([
      [expect.closeTo(0.8), 4.5, 4.5],
      [expect.closeTo(0.6), 14.5, 4.5],
    ]);
  });

  it('moves the crown by the offset in cells and the base by the vector in 16 px', () => {
    const maps = mapsFrom(['...', '.9.', '...']);
    const at = cellsOf(maps, 1, 1);
    at(2, 0.25);
    at(3, -0.5);
    at(4, 1);
    at(5, -0.5);
    const [peak] = decodeHeatmaps(maps, card);
    expect(peak?.crownPx).toEqual([3, 1.5]);
    expect(peak?.basePx).toEqual([19, -6.5]);
  });

  it('finds nothing in empty maps and under the floor', () => {
    expect(decodeHeatmaps(mapsFrom(['...', '...']), card)).toEqual([]);
    expect(decodeHeatmaps(mapsFrom(['.1.', '...']), card)).toEqual([]);
  });

  it('refuses maps of another shape', () => {
    expect(() => decodeHeatmaps({ data: new Float32Array(8), dims: [1, 2, 2, 2] }, card)).toThrow(RangeError);
  });
});
