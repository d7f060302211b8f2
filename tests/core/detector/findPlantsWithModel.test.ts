import { describe, expect, it } from 'vitest';
import { findPlantsWithModel } from '../../../src/core/detector/findPlantsWithModel.ts';
import type { Point } from '../../../src/core/geometry/point.ts';
import { makeRaster } from '../../../src/core/raster/raster.ts';
import type { Strip } from '../../../src/core/straighten/strip.ts';
import { cellsOf, mapsFrom } from './mapsFrom.ts';
import { testCard as card } from './testCard.ts';

const search = { coveredStripPx: [], rowAcrossM: null, rowWidthM: null, seedSpacingM: null };
const identity = [1, 0, 0, 0, 1, 0, 0, 0, 1] as const;

function strip(mmPerPx: number, camera: Strip['camera'] = { alongM: 0.1, acrossM: 0, heightM: 100 }): Strip {
  const raster = makeRaster(Math.round(256 / mmPerPx), Math.round(64 / mmPerPx));
  raster.data.fill(255);
  const place = { mmPerPx, alongAtLeftM: 0, acrossAtTopM: 0.032, worstPhotoPxPerStripPx: 1 };
  return { raster, ...place, photoToStrip: identity, stripToPhoto: identity, camera };
}

/** A network that answers two plants, a weak one and a weed, whatever it sees; 64 x 16 cells. */
const maps = () => {
  const rows = Array.from({ length: 16 }, () => '.'.repeat(64));
  const out = mapsFrom(rows);
  for (const [x, score] of [
    [10, 0.8],
    [30, 0.6],
    [45, 0.2],
    [55, 0.4],
  ] as const) {
    cellsOf(out, x, 8)(0, score);
  }
  cellsOf(out, 55, 8)(1, 0.7);
  for (let y = 7; y <= 9; y++) for (let x = 9; x <= 11; x++) cellsOf(out, x, y)(7, 0.9);
  return out;
};

describe('findPlantsWithModel', () => {
  it('turns peaks into detections ordered along the row, in strip pixels', async () => {
    const { detections, rowLine } = await findPlantsWithModel(strip(1), search, async () => maps(), card);
    expect(detections.map((d) => d.kind)).toEqual(['plant', 'plant', 'unsure', 'weed']);
    expect(detections[0]?.crownStripPx).toEqual([41.5, 33.5]);
    expect(detections[0]?.confidence).toBeCloseTo(0.8, 5);
    expect(detections[0]?.leafAreaMm2).toBe(9 * 16);
    expect(detections[1]?.leafAreaMm2).toBe(0);
    expect(rowLine?.acrossAtZeroM).toBeCloseTo(0.032 - 0.0335, 3);
  });

  it('gives the same ground places whatever the scale of the strip', async () => {
    const places = async (mm: number) =>
      (await findPlantsWithModel(strip(mm), search, async () => maps(), card)).detections.map(
        (d) => (d.crownStripPx[0] + 0.5) * mm,
      );
    const fine = await places(1);
    // pixel edges agree, so centres differ by no more than rounding of the strip's size
    const coarse = await places(2);
    for (const [k, x] of coarse.entries()) expect(x).toBeCloseTo(fine[k]!, 6);
  });

  describe('beside a reference that covers the first 60 mm', () => {
    const covered: readonly Point[] = [
      [0, 0],
      [60, 0],
      [60, 64],
      [0, 64],
    ];
    const crowns = async (answer: () => ReturnType<typeof maps>) =>
      (
        await findPlantsWithModel(strip(1), { ...search, coveredStripPx: [covered] }, async () => answer(), card)
      ).detections
        .map((d) => Math.round(d.crownStripPx[0]))
        .sort((a, b) => a - b);

    it('leaves out what lies on it', async () => {
      expect(await crowns(maps)).toEqual([122, 182, 222]);
    });

    it('keeps a plant whose leaves hang over it, and leaves out what would stand under it', async () => {
      const leaning = () => {
        const out = maps();
        cellsOf(out, 10, 8)(4, 1.25); // the base is 40 mm further along the row than the crown, at 82 mm
        cellsOf(out, 30, 8)(4, -2.5); // 80 mm back, at 42 mm
        return out;
      };
      expect(await crowns(leaning)).toEqual([42, 182, 222]);
    });
  });

  it('says that it found no plant, and no row', async () => {
    const { detections, rowLine, warnings } = await findPlantsWithModel(
      strip(1),
      search,
      async () => mapsFrom(Array.from({ length: 16 }, () => '.'.repeat(64))),
      card,
    );
    expect(detections).toEqual([]);
    expect(rowLine).toBeNull();
    expect(warnings.map((w) => w.code)).toEqual(['no-plants']);
  });
});
