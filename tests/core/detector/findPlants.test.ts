import { describe, expect, it } from 'vitest';
import { findPlants } from '../../../src/core/detector/findPlants.ts';
import { mapSupport } from '../../../src/core/detector/mapSupport.ts';
import type { ModelTensor } from '../../../src/core/detector/modelRunner.ts';
import { rescaledFindings, rescaledStrip } from '../../../src/core/detector/rescale.ts';
import type { PlantFindings } from '../../../src/core/plants/detection.ts';
import { makeRaster } from '../../../src/core/raster/raster.ts';
import type { Strip } from '../../../src/core/straighten/strip.ts';
import { cellsOf, mapsFrom } from './mapsFrom.ts';
import { testCard as card } from './testCard.ts';

const search = { coveredStripPx: [], rowAcrossM: null, rowWidthM: null, seedSpacingM: null };
const IDENTITY = [1, 0, 0, 0, 1, 0, 0, 0, 1] as const;
const NOTHING: PlantFindings = { detections: [], rowLine: null, warnings: [] };

function strip(): Strip {
  const raster = makeRaster(256, 64);
  raster.data.fill(255);
  const place = { mmPerPx: 2, alongAtLeftM: 0, acrossAtTopM: 0.064, worstPhotoPxPerStripPx: 1 };
  return { raster, ...place, photoToStrip: IDENTITY, stripToPhoto: IDENTITY, camera: null };
}

/** A network with a score for each width at which the strip is shown: 128, 192 (182 padded), 256, 384 (362 padded), 512. */
function scores(byWidth: Readonly<Record<number, number>>, asked: number[]) {
  return async ({ dims }: ModelTensor): Promise<ModelTensor> => {
    const [, , h, w] = dims as [number, number, number, number];
    asked.push(w);
    const maps = mapsFrom(Array.from({ length: h / 2 }, () => '.'.repeat(w / 2)));
    for (const share of [0.25, 0.5, 0.75]) {
      cellsOf(maps, Math.round((share * w) / 2), Math.round(h / 4))(0, byWidth[w] ?? 0);
    }
    return maps;
  };
}

describe('findPlants', () => {
  it('asks once where the scale is known', async () => {
    const asked: number[] = [];
    await findPlants(strip(), search, NOTHING, scores({ 256: 0.35 }, asked), card);
    await findPlants(strip(), { ...search, scaleKnown: true }, NOTHING, scores({ 256: 0.35 }, asked), card);
    expect(asked).toEqual([256, 256]);
  });

  it('goes up while support grows where the scale is in doubt, and answers in the lengths of the strip', async () => {
    const asked: number[] = [];
    const doubt = { ...search, scaleKnown: false };
    const growing = { 192: 0.3, 256: 0.35, 384: 0.6, 512: 0.8 };
    const { detections } = await findPlants(strip(), doubt, NOTHING, scores(growing, asked), card);
    expect(asked).toEqual([256, 192, 384, 512]);
    expect(detections.map((d) => d.confidence)).toEqual([0.8, 0.8, 0.8].map((c) => expect.closeTo(c, 5)));
    for (const [k, share] of [0.25, 0.5, 0.75].entries()) {
      expect(Math.abs(detections[k]!.crownStripPx[0] - share * 256)).toBeLessThan(2);
      // The doubt of a base is 5 mm at the scale looked at, which is twice as coarse.
      expect(detections[k]!.alongSdMm).toBeCloseTo(2.5, 5);
    }
  });

  it.each([
    [
      'stays with the scale claimed where a larger picture adds little',
      { 192: 0.5, 256: 0.75, 384: 0.8, 512: 0.9 },
      0.75,
    ],
    ['goes up from where nothing is seen', { 384: 0.4, 512: 0.41 }, 0.4],
    [
      'goes down where a smaller picture is better supported',
      { 128: 0.6, 192: 0.9, 256: 0.5, 384: 0.95, 512: 0.95 },
      0.9,
    ],
  ] as const)('%s', async (_, byWidth, score) => {
    const doubt = { ...search, scaleKnown: false };
    const { detections } = await findPlants(strip(), doubt, NOTHING, scores(byWidth, []), card);
    expect(detections.map((d) => d.confidence)).toEqual([score, score, score].map((c) => expect.closeTo(c, 5)));
  });
});

describe('mapSupport', () => {
  it('is the sum of squares of peaks called plant', () => {
    const maps = mapsFrom(['.........', '.8..2..5.', '.........']);
    cellsOf(maps, 7, 1)(1, 0.9);
    expect(mapSupport(maps, card)).toBeCloseTo(0.64, 5);
  });
});

describe('rescaling', () => {
  it('there and back changes nothing', () => {
    const findings: PlantFindings = {
      detections: [
        {
          id: 'p1',
          baseStripPx: [10, 20],
          crownStripPx: [11, 18],
          kind: 'plant',
          confidence: 0.9,
          doubleChance: 0.1,
          leafAreaMm2: 800,
          boxStripPx: [5, 5, 20, 25],
          alongSdMm: 6,
        },
      ],
      rowLine: { acrossAtZeroM: 0.1, slope: 0.02, sdM: 0.01 },
      warnings: [],
    };
    expect(rescaledFindings(rescaledFindings(findings, 2), 0.5)).toEqual(findings);
    const one: Strip = { ...strip(), camera: { alongM: 0.5, acrossM: -2, heightM: 1.5 } };
    expect(rescaledStrip(rescaledStrip(one, 2), 0.5)).toEqual(one);
  });
});
