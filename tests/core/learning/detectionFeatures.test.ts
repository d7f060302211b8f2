import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { featuresOfAll } from '../../../src/core/learning/detectionFeatures.ts';
import { FEATURE_NAMES } from '../../../src/core/learning/featureNames.ts';
import type { PlantFindings } from '../../../src/core/plants/detection.ts';
import { findPlantsByColour } from '../../../src/core/plants/findPlantsByColour.ts';
import type { Strip } from '../../../src/core/straighten/strip.ts';
import { ANYWHERE, mirrored, stripFromText, stripOf, stripOfPlants } from '../../support/drawnStrip.ts';

const PLANTS = [60, 170, 260, 380, 500].map((alongMm, k) => ({ alongMm, downMm: 150, turn: 0.7 * k }));
const strip = stripOfPlants(600, 300, PLANTS);
const findings = findPlantsByColour(strip, ANYWHERE);

type Named = Readonly<Record<(typeof FEATURE_NAMES)[number], number>>;

function named(found: PlantFindings, of: Strip): readonly Named[] {
  return featuresOfAll(found, of).map(
    (values) => Object.fromEntries(FEATURE_NAMES.map((name, k) => [name, values[k]!])) as Named,
  );
}

/** One mark whose box is the whole strip drawn as text. */
function wholeStrip(text: string): Named {
  const drawn = stripFromText(text);
  const { widthPx, heightPx } = drawn.raster;
  const d = {
    ...findings.detections[0]!,
    baseStripPx: [0, 0] as const,
    crownStripPx: [0, 0] as const,
    boxStripPx: [0, 0, widthPx - 1, heightPx - 1] as const,
  };
  return named({ detections: [d], rowLine: null, warnings: [] }, drawn)[0]!;
}

describe('features of a mark', () => {
  it('are finite numbers, one a name, also for no marks, a bare strip and a box outside it', () => {
    for (const values of featuresOfAll(findings, strip)) {
      expect(values).toHaveLength(FEATURE_NAMES.length);
      expect(values.every(Number.isFinite)).toBe(true);
    }
    expect(featuresOfAll({ ...findings, detections: [] }, strip)).toEqual([]);
    const bare = stripOfPlants(600, 300, []);
    const outside = { ...findings.detections[0]!, leafAreaMm2: 0, boxStripPx: [-90, -90, -50, -50] as const };
    const odd = featuresOfAll({ detections: [outside], rowLine: null, warnings: [] }, bare);
    expect(odd.flat().every(Number.isFinite)).toBe(true);
  });

  it('do not depend on the order of the marks', () => {
    const order = fc.shuffledSubarray([...findings.detections.keys()], { minLength: findings.detections.length });
    const straight = featuresOfAll(findings, strip);
    fc.assert(
      fc.property(order, (places) => {
        const detections = places.map((k) => findings.detections[k]!);
        expect(featuresOfAll({ ...findings, detections }, strip)).toEqual(places.map((k) => straight[k]));
      }),
      { numRuns: 10 },
    );
  });

  it('are the same in the mirror', () => {
    const across = (x: number) => strip.raster.widthPx - 1 - x;
    const detections = findings.detections.map((d) => ({
      ...d,
      baseStripPx: [across(d.baseStripPx[0]), d.baseStripPx[1]] as const,
      crownStripPx: [across(d.crownStripPx[0]), d.crownStripPx[1]] as const,
      boxStripPx: [across(d.boxStripPx[2]), d.boxStripPx[1], across(d.boxStripPx[0]), d.boxStripPx[3]] as const,
    }));
    const turned = featuresOfAll({ detections, rowLine: null, warnings: [] }, stripOf(mirrored(strip.raster)));
    const straight = featuresOfAll({ ...findings, rowLine: null }, strip);
    const [soil, bright] = [FEATURE_NAMES.indexOf('greenOverSoil'), FEATURE_NAMES.indexOf('brightOverSoil')];
    turned.forEach((values, k) => {
      values.forEach((value, f) => {
        // soil is sampled at every third or 37th pixel, which are others in the mirror
        expect(Math.abs(value - straight[k]![f]!)).toBeLessThan(f === soil || f === bright ? 0.02 : 1e-9);
      });
    });
  });

  it('hardly change with the light', () => {
    const dim = stripOfPlants(600, 300, PLANTS, { light: 0.7 });
    const [bright, dark] = [named(findings, strip), named(findings, dim)];
    for (const [k, one] of bright.entries()) {
      // 8-bit rounding of channels of 30 to 90: a hundredth of a share, four times that in the index (it weighs green
      // by 4 once the shares sum to 1), against a leaf that stands 0.6 above this soil
      expect(Math.abs(one.redShare - dark[k]!.redShare)).toBeLessThan(0.01);
      expect(Math.abs(one.greenShare - dark[k]!.greenShare)).toBeLessThan(0.01);
      expect(Math.abs(one.greenOverSoil - dark[k]!.greenOverSoil)).toBeLessThan(0.04);
      expect(Math.abs(one.brightOverSoil - dark[k]!.brightOverSoil)).toBeLessThan(0.05);
    }
  });

  it('read colour and shape off the leaf pixels', () => {
    const long = wholeStrip(`
      ............
      .GGGGGGGGGG.
      ............`);
    const round = wholeStrip(`
      ......
      ..GG..
      ..GG..
      ......`);
    // 10 cells by 1: axes 10 to 1 before rounded cells
    expect(Math.exp(long.elongation)).toBeGreaterThan(7);
    expect(Math.exp(round.elongation)).toBeLessThan(1.1);
    // four of 24 cells
    expect(round.leafShare).toBeCloseTo(4 / 24, 1);
    // the leaf's paint is 74, 128, 42
    expect(round.greenShare).toBeCloseTo(128 / 244, 2);
    expect(round.redShare).toBeCloseTo(74 / 244, 2);
    const pale = wholeStrip(`
      ......
      ..yy..
      ..yy..
      ......`);
    expect(pale.greenOverSoil).toBeLessThan(round.greenOverSoil);
    expect(pale.brightOverSoil).toBeGreaterThan(round.brightOverSoil);
  });

  it('measure distances in millimetres of soil, whatever the scale of the strip', () => {
    const [first] = findings.detections;
    const marks = [0, 60, 100].map((alongMm, k) => ({
      ...first!,
      id: `m${k}`,
      kind: 'plant' as const,
      leafAreaMm2: 1000 * (k + 1),
      baseStripPx: [alongMm / 1.5, 100] as const,
    }));
    const rowLine = { acrossAtZeroM: strip.acrossAtTopM - 0.15 - 0.02, slope: 0, sdM: 0.005 };
    const [one] = named({ detections: marks, rowLine, warnings: [] }, strip);
    expect(one!.nearest).toBeCloseTo(Math.log(0.6), 9);
    expect(one!.secondNearest).toBeCloseTo(0, 9);
    expect(one!.areaOverNearest).toBeCloseTo(Math.log(1 / 2), 9);
    expect(one!.leafAreaOverPlants).toBeCloseTo(Math.log(1 / 2), 9);
    expect(one!.offRow).toBeCloseTo(Math.log(3), 9);
  });
});
