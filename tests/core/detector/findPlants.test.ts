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

/** A network that knows plants when the strip is shown `wide` pixels wide, and is faint at all other sizes. */
function knows(wide: number, faint: number, asked: number[]) {
  return async ({ dims }: ModelTensor): Promise<ModelTensor> => {
    const [, , h, w] = dims as [number, number, number, number];
    asked.push(w);
    const maps = mapsFrom(Array.from({ length: h / 2 }, () => '.'.repeat(w / 2)));
    for (const share of [0.25, 0.5, 0.75]) {
      cellsOf(maps, Math.round((share * w) / 2), Math.round(h / 4))(0, w === wide ? 0.8 : faint);
    }
    return maps;
  };
}

describe('findPlants', () => {
  it('asks once where the scale is known', async () => {
    const asked: number[] = [];
    await findPlants(strip(), search, NOTHING, knows(512, 0.35, asked), card);
    await findPlants(strip(), { ...search, scaleKnown: true }, NOTHING, knows(512, 0.35, asked), card);
    expect(asked).toEqual([256, 256]);
  });

  it('takes the answer of a better supported scale where the scale is in doubt, in the lengths of the strip', async () => {
    const asked: number[] = [];
    const doubt = { ...search, scaleKnown: false };
    const { detections } = await findPlants(strip(), doubt, NOTHING, knows(512, 0.35, asked), card);
    expect(asked).toContain(512);
    expect(detections.map((d) => d.confidence)).toEqual([0.8, 0.8, 0.8].map((c) => expect.closeTo(c, 5)));
    for (const [k, share] of [0.25, 0.5, 0.75].entries()) {
      expect(Math.abs(detections[k]!.crownStripPx[0] - share * 256)).toBeLessThan(2);
      // The doubt of a base is 5 mm at the scale looked at, which is twice as coarse.
      expect(detections[k]!.alongSdMm).toBeCloseTo(2.5, 5);
    }
  });

  it('stays with the scale claimed where no other is clearly better', async () => {
    const doubt = { ...search, scaleKnown: false };
    const { detections } = await findPlants(strip(), doubt, NOTHING, knows(512, 0.75, []), card);
    expect(detections.map((d) => d.confidence)).toEqual([0.75, 0.75, 0.75].map((c) => expect.closeTo(c, 5)));
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
