import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Detection } from '../../../src/core/plants/detection.ts';
import { findPlantsByColour } from '../../../src/core/plants/findPlantsByColour.ts';
import type { Strip } from '../../../src/core/straighten/strip.ts';
import {
  ANYWHERE,
  basesAsText,
  type DrawnPlant,
  MM_PER_PX,
  mirrored,
  paintedStrip,
  stripFromText,
  stripOf,
  stripOfPlants,
} from '../../support/drawnStrip.ts';
import { picture } from '../../support/maskText.ts';

const plantsIn = (strip: Strip, search = ANYWHERE): readonly Detection[] =>
  findPlantsByColour(strip, search).detections.filter((d) => d.kind === 'plant');

const ROW: readonly DrawnPlant[] = [0.4, 2.6, 1.1, 0.2, 1.9, 2.2, 0.9, 2.9].map((turn, k) => ({
  alongMm: 110 + 115 * k + (k % 3) * 9,
  downMm: 200 + (k % 2) * 8,
  turn,
}));
const rowStrip = (light = 1) => stripOfPlants(1050, 400, ROW, { light });

describe('findPlantsByColour on drawn strips', () => {
  it('finds two opposite leaves as one plant, with its base between them', () => {
    const strip = stripFromText(`
      ....................................
      ....................................
      ...GGG.GGG.......GG.................
      ..GGGGGGGGG.....GGGG.....GGGG.GGGG..
      ...GGG.GGG......GGGG.....GGGGGGGGG..
      ................GGG......GGG...GGG..
      ..................G.................
      ................GGGG................
      ................GGGG................
      ................GGGG................
      .................GG.................
      ....................................`);
    expect(
      basesAsText(
        strip,
        plantsIn(strip).map((d) => d.baseStripPx),
      ),
    ).toBe(
      picture(`
      ....................................
      ....................................
      ....................................
      ......P.............................
      .............................P......
      ....................................
      ..................P.................
      ....................................
      ....................................
      ....................................
      ....................................
      ....................................`),
    );
  });

  it('counts a drawn row and puts each base within 12 mm', () => {
    const bases = plantsIn(rowStrip()).map((d) => d.baseStripPx);
    expect(bases.length).toBe(ROW.length);
    for (const [k, { alongMm, downMm }] of ROW.entries()) {
      // the drawing stands straight up: what is left is the lobe raster and the crown's own choice
      expect(Math.hypot(bases[k]![0] * MM_PER_PX - alongMm, bases[k]![1] * MM_PER_PX - downMm)).toBeLessThan(12);
    }
  });

  it('splits neighbours whose leaves touch', () => {
    const touching = [0, 1, 2, 3, 4, 5].map((k): DrawnPlant => ({ alongMm: 90 + 88 * k, downMm: 150, turn: 0.12 * k }));
    expect(plantsIn(stripOfPlants(640, 300, touching)).length).toBe(6);
  });

  it('finds the same marks in the mirrored strip, mirrored', () => {
    const strip = rowStrip();
    const width = strip.raster.widthPx;
    const there = plantsIn(strip).map((d) => d.baseStripPx);
    const back = plantsIn(stripOf(mirrored(strip.raster))).map((d) => [width - 1 - d.baseStripPx[0], d.baseStripPx[1]]);
    back.sort((a, b) => a[0]! - b[0]!);
    expect(back.length).toBe(there.length);
    for (const [k, [x, y]] of there.entries()) {
      // 6 mm: equal pixels tie to the other side, and a crown is one of a few candidate places
      expect(Math.abs(back[k]![0]! - x) * MM_PER_PX).toBeLessThan(6);
      expect(Math.abs(back[k]![1]! - y) * MM_PER_PX).toBeLessThan(6);
    }
  });

  it('counts the same under 0.7 to 1.3 times the light', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.7, max: 1.3, noNaN: true }), (light) => {
        expect(plantsIn(rowStrip(light)).length).toBe(ROW.length);
      }),
      { numRuns: 8 },
    );
  });

  it('moves its marks with the plants', () => {
    const shift = 30;
    const moved = stripOfPlants(
      1050 + shift,
      400,
      ROW.map((p) => ({ ...p, alongMm: p.alongMm + shift })),
    );
    const before = plantsIn(rowStrip());
    const after = plantsIn(moved);
    expect(after.length).toBe(before.length);
    // the grain of the drawn light does not move along, and a crown is one of a few candidate places: within the
    // standard deviation that the mark itself states
    for (const [k, d] of before.entries()) {
      const movedMm = (after[k]!.baseStripPx[0] - d.baseStripPx[0]) * MM_PER_PX;
      expect(Math.abs(movedMm - shift)).toBeLessThan(d.alongSdMm);
    }
  });

  it('calls what stands far off the row no plant', () => {
    const weed: DrawnPlant = { alongMm: 520, downMm: 60, turn: 1, sizeMm: 22 };
    const found = findPlantsByColour(stripOfPlants(1050, 400, [...ROW, weed]), { ...ANYWHERE, rowAcrossM: 0 });
    const off = found.detections.filter((d) => d.baseStripPx[1] * MM_PER_PX < 110);
    expect(off.map((d) => d.kind)).toEqual(['weed']);
    expect(found.detections.filter((d) => d.kind === 'plant').length).toBe(ROW.length);
  });

  it('finds nothing under the reference itself', () => {
    const strip = rowStrip();
    const { widthPx, heightPx } = strip.raster;
    const whole = [
      [-1, -1],
      [widthPx, -1],
      [widthPx, heightPx],
      [-1, heightPx],
    ] as const;
    expect(findPlantsByColour(strip, { ...ANYWHERE, coveredStripPx: [whole] }).detections).toEqual([]);
  });

  it('gives the same answer twice, ids in order along the row', () => {
    const a = findPlantsByColour(rowStrip(), ANYWHERE);
    expect(findPlantsByColour(rowStrip(), ANYWHERE)).toEqual(a);
    expect(a.detections.map((d) => d.id)).toEqual(a.detections.map((_, k) => `p${k + 1}`));
  });
});

describe('what holds no row of seedlings', () => {
  const sure = (strip: Strip): number => plantsIn(strip).filter((d) => d.confidence > 0.6).length;

  it.each([
    ['bare soil', () => null],
    ['straw', (x: number, y: number) => ((x * 3 + y) % 90 < 14 && y % 40 < 12 ? ([205, 184, 138] as const) : null)],
    ['gravel', (x: number, y: number) => (((x >> 4) + (y >> 4)) % 2 === 0 ? ([150, 152, 148] as const) : null)],
    ['deep shade', (x: number) => (x % 120 < 60 ? ([14, 13, 11] as const) : null)],
    [
      'a blue boot',
      (x: number, y: number) => (Math.hypot(x - 150, (y - 90) * 2) < 100 ? ([50, 80, 120] as const) : null),
    ],
  ])('%s gives no plant', (_, paint) => {
    const { detections, rowLine } = findPlantsByColour(paintedStrip(400, 200, paint), ANYWHERE);
    expect(detections).toEqual([]);
    expect(rowLine).toBe(null);
  });

  it('a lawn and a green boot give no sure plant', () => {
    const lawn = paintedStrip(400, 200, (x, y) => ((x * 7 + y * 3) % 11 < 8 ? [80, 130, 50] : null));
    expect(sure(lawn)).toBe(0);
    expect(findPlantsByColour(lawn, ANYWHERE).warnings.map((w) => w.code)).toContain('canopy-closed');
    const boot = paintedStrip(400, 300, (x, y) => (Math.hypot((x - 200) / 2, y - 150) < 60 ? [60, 100, 40] : null));
    expect(sure(boot)).toBe(0);
  });

  it('an empty strip, one pixel, and all green do not break it', () => {
    const empty = { widthPx: 50, heightPx: 40, data: new Uint8Array(50 * 40 * 4) };
    expect(findPlantsByColour(stripOf(empty), ANYWHERE)).toEqual({
      detections: [],
      rowLine: null,
      warnings: [{ code: 'no-green', message: 'No green leaves were found in the strip.' }],
    });
    const pixel = { widthPx: 1, heightPx: 1, data: Uint8Array.from([60, 140, 40, 255]) };
    expect(plantsIn(stripOf(pixel))).toEqual([]);
    expect(sure(paintedStrip(60, 50, () => [70, 130, 40]))).toBe(0);
  });
});
