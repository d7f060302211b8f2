import { describe, expect, it } from 'vitest';
import type { CameraView } from '../../../src/core/plants/cameraView.ts';
import type { PartGroup } from '../../../src/core/plants/partGroup.ts';
import { stemBase } from '../../../src/core/plants/stemBase.ts';

const SIDE: CameraView = { footPx: [150, 1300], heightPx: 1000, mmPerPx: 1 };
/** A plant without a seen stem, its crown 72 mm high over (150, 130): 30 mm beside a row along y = 100. */
const [x, y] = [150, 130 - 72 * 1.2];
const LEAFY = {
  crownPx: [x, y],
  stems: [],
  spanMm: 90,
  outlinePx: [
    [x - 40, y],
    [x + 40, y],
    [x, y + 70],
  ],
} as unknown as PartGroup;
const row = (sdPx: number) => ({ y0: 100, slope: 0, sdPx });

describe('stemBase', () => {
  it('goes to the row the nearer the wider bases are spread about it: stems themselves stand in a narrow furrow', () => {
    const free = stemBase(LEAFY, SIDE, 72, null);
    const off = (sdPx: number): number => Math.abs(stemBase(LEAFY, SIDE, 72, row(sdPx)).basePx[1] - 100);
    expect(Math.abs(free.basePx[1] - 100)).toBeGreaterThan(20);
    expect(off(40)).toBeLessThan(off(10));
    // of 40 mm of spread 8 are the stems' own: what is left of an offset is 8 x 8 / (40 x 40)
    expect(off(40) / Math.abs(free.basePx[1] - 100)).toBeCloseTo(0.04, 2);
  });

  it('stays where a stem is seen to meet the soil', () => {
    const seen = { ...LEAFY, stems: [{ footPx: [152, 128], topPx: [150, 60], strength: 0.9 }] } as unknown as PartGroup;
    expect(stemBase(seen, SIDE, 72, row(40)).basePx).toEqual([152, 128]);
  });
});
