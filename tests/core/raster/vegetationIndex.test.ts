import { describe, expect, it } from 'vitest';
import { cutEdges } from '../../../src/core/raster/cutEdges.ts';
import type { Mask, Raster } from '../../../src/core/raster/raster.ts';
import { vegetationIndex } from '../../../src/core/raster/vegetationIndex.ts';

/** A flat picture of one colour, three by three, and the index of its middle. */
function indexOf(r: number, g: number, b: number): number {
  const data = new Uint8Array(36);
  for (let i = 0; i < 36; i += 4) data.set([r, g, b, 255], i);
  return vegetationIndex({ widthPx: 3, heightPx: 3, data }).data[4]!;
}

describe('vegetationIndex', () => {
  it('is excess green less excess red on chromatic coordinates', () => {
    // Meyer & Neto 2008: ExG - ExR = (2g - r - b) - (1.4r - g); r, g, b = 0.3, 0.5, 0.2 gives 0.5 - (-0.08) = 0.58
    expect(indexOf(90, 150, 60)).toBeCloseTo(0.58, 2);
  });

  it('puts leaves above soil, straw, tape, skin, sky and black', () => {
    const leaves = [
      [70, 120, 45],
      [40, 60, 30],
      [150, 200, 90],
      [120, 150, 110],
    ] as const;
    const others = [
      [110, 85, 65],
      [200, 180, 135],
      [150, 150, 150],
      [240, 200, 40],
      [220, 170, 140],
      [120, 160, 230],
      [90, 160, 160],
      [6, 7, 5],
    ] as const;
    const lowestLeaf = Math.min(...leaves.map(([r, g, b]) => indexOf(r, g, b)));
    const highestOther = Math.max(...others.map(([r, g, b]) => indexOf(r, g, b)));
    expect(lowestLeaf).toBeGreaterThan(0);
    expect(highestOther).toBeLessThan(-0.02);
  });

  it('does not follow brightness above the dark', () => {
    for (const k of [0.7, 0.85, 1.15, 1.3]) {
      // a byte is rounded by half a digital number in about 150, times the largest weight 3
      expect(Math.abs(indexOf(80 * k, 130 * k, 50 * k) - indexOf(80, 130, 50))).toBeLessThan(0.02);
    }
  });

  it('is below every colour where the picture has no content', () => {
    expect(vegetationIndex({ widthPx: 1, heightPx: 1, data: new Uint8Array(4) }).data[0]).toBe(-3);
  });
});

describe('cutEdges', () => {
  const flat = (left: number, right: number): { raster: Raster; mask: Mask } => {
    const data = new Uint8Array(10 * 5 * 4);
    for (let i = 0; i < 50; i++) data.set([40, i % 10 < 5 ? left : right, 30, 255], 4 * i);
    return {
      raster: { widthPx: 10, heightPx: 5, data },
      mask: { widthPx: 10, heightPx: 5, data: new Uint8Array(50).fill(1) },
    };
  };

  it('cuts along a step of light between two leaves, at any exposure', () => {
    for (const k of [1, 0.6]) {
      const { raster, mask } = flat(100 * k, 200 * k);
      const kept = cutEdges(mask, raster, 0.3);
      expect([...kept.data.subarray(20, 30)]).toEqual([1, 1, 1, 1, 0, 0, 1, 1, 1, 1]);
    }
  });

  it('leaves texture alone', () => {
    const { raster, mask } = flat(100, 112);
    expect(cutEdges(mask, raster, 0.3).data).toEqual(mask.data);
  });
});
