import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fuseFindings } from '../../../src/core/detector/fuseFindings.ts';
import { pairMarks } from '../../../src/core/detector/pairMarks.ts';
import { type Evidence, plantChance } from '../../../src/core/detector/plantChance.ts';
import type { CameraStand } from '../../../src/core/geometry/cameraStand.ts';
import { cameraView } from '../../../src/core/plants/cameraView.ts';
import type { Detection, PlantFindings } from '../../../src/core/plants/detection.ts';
import { makeRaster } from '../../../src/core/raster/raster.ts';
import type { Strip } from '../../../src/core/straighten/strip.ts';

const IDENTITY = [1, 0, 0, 0, 1, 0, 0, 0, 1] as const;

/** 1 m by 20 cm at 1 mm a pixel; the row is the middle line unless said otherwise. */
function strip(camera: CameraStand | null = null): Strip {
  const place = { mmPerPx: 1, alongAtLeftM: 0, acrossAtTopM: 0.1, worstPhotoPxPerStripPx: 1 };
  return { raster: makeRaster(1000, 200), ...place, photoToStrip: IDENTITY, stripToPhoto: IDENTITY, camera };
}

function mark(x: number, y: number, confidence: number, more: Partial<Detection> = {}): Detection {
  return {
    id: '',
    baseStripPx: [x, y],
    crownStripPx: [x, y],
    kind: 'plant',
    confidence,
    doubleChance: 0,
    leafAreaMm2: 500,
    boxStripPx: [x - 20, y - 20, x + 20, y + 20],
    alongSdMm: 5,
    ...more,
  };
}

const findings = (detections: readonly Detection[], row = true): PlantFindings => ({
  detections,
  rowLine: row ? { acrossAtZeroM: 0, slope: 0, sdM: 0.01 } : null,
  warnings: [],
});
const places = (found: PlantFindings): number[] =>
  found.detections.filter((d) => d.kind === 'plant').map((d) => Math.round(d.baseStripPx[0]));

const clear: Evidence = {
  network: 0.9,
  colour: 0.9,
  networkSaysWeed: false,
  strongerMm: Number.POSITIVE_INFINITY,
  offRowMm: 0,
  alongTangent: 0,
};

describe('plantChance', () => {
  it('is a chance, and falls with every doubt', () => {
    const chance01 = fc.double({ min: 0, max: 1, noNaN: true });
    const length = fc.double({ min: 0, max: 1000, noNaN: true });
    const any = fc.record({
      network: fc.option(chance01),
      colour: fc.option(chance01),
      networkSaysWeed: fc.boolean(),
      strongerMm: length,
      offRowMm: length,
      alongTangent: fc.double({ min: 0, max: 5, noNaN: true }),
    });
    fc.assert(
      fc.property(any, (evidence) => {
        const p = plantChance(evidence);
        expect(p).toBeGreaterThanOrEqual(0);
        expect(p).toBeLessThanOrEqual(1);
        expect(plantChance({ ...evidence, offRowMm: evidence.offRowMm + 30 })).toBeLessThanOrEqual(p);
        expect(plantChance({ ...evidence, strongerMm: evidence.strongerMm / 2 })).toBeLessThanOrEqual(p);
        expect(plantChance({ ...evidence, networkSaysWeed: true })).toBeLessThanOrEqual(p);
      }),
    );
  });

  it('believes both more than either, and a lone clear plant', () => {
    expect(plantChance(clear)).toBeGreaterThan(0.9);
    expect(plantChance({ ...clear, colour: null })).toBeLessThan(plantChance(clear));
    expect(plantChance({ ...clear, network: null })).toBeLessThan(plantChance(clear));
    expect(plantChance({ ...clear, network: 0.2, strongerMm: 10 })).toBeLessThan(0.5);
  });
});

describe('pairMarks', () => {
  const view = cameraView(strip());
  it('pairs the nearest first, each once, and none that are far apart', () => {
    const network = [mark(100, 100, 1), mark(130, 100, 1), mark(500, 100, 1)];
    const colour = [mark(128, 100, 1), mark(112, 100, 1), mark(600, 100, 1)];
    expect(pairMarks(network, colour, view)).toEqual([1, 0, null]);
    expect(pairMarks([], colour, view)).toEqual([]);
    expect(pairMarks(network, [], view)).toEqual([null, null, null]);
  });

  it('gives a plant marked twice by the network to the sure mark', () => {
    expect(pairMarks([mark(100, 100, 0.2), mark(112, 100, 0.95)], [mark(100, 100, 1)], view)).toEqual([null, 0]);
  });

  it('allows more apart along the line of sight than beside it', () => {
    const low = cameraView(strip({ alongM: 0.1, acrossM: -2, heightM: 1.5 }));
    const at = [mark(100, 100, 1)];
    expect(pairMarks(at, [mark(100, 20, 1)], low)).toEqual([0]);
    expect(pairMarks(at, [mark(180, 100, 1)], low)).toEqual([null]);
  });
});

describe('fuseFindings', () => {
  const row = [100, 200, 300, 400, 500];

  it('keeps plants that both see, in order along the row, numbered', () => {
    const network = findings([...row].reverse().map((x) => mark(x, 100, 0.9)));
    const fused = fuseFindings(network, findings(row.map((x) => mark(x + 5, 100, 0.9))), strip());
    // a third of the way toward colour's bases, 5 px off, to whole pixels
    expect(places(fused)).toEqual(row.map((x) => x + 2));
    expect(fused.detections.map((d) => d.id)).toEqual(['p1', 'p2', 'p3', 'p4', 'p5']);
  });

  it('adds a plant that colour alone sees where the network knows the crop', () => {
    const network = findings(row.slice(1).map((x) => mark(x, 100, 0.9)));
    expect(places(fuseFindings(network, findings(row.map((x) => mark(x, 100, 0.95))), strip()))).toEqual(row);
  });

  it('does not take leaves for plants where the network sees none of its crop', () => {
    const weeds = findings([mark(100, 100, 0.3, { kind: 'weed' }), mark(300, 100, 0.3, { kind: 'unsure' })]);
    expect(places(fuseFindings(weeds, findings(row.map((x) => mark(x, 100, 0.95))), strip()))).toEqual([]);
    expect(places(fuseFindings(findings([]), findings([]), strip()))).toEqual([]);
  });

  it('calls marks far off the row weeds', () => {
    const network = findings([...row.map((x) => mark(x, 100, 0.9)), mark(350, 10, 0.9)]);
    const fused = fuseFindings(network, findings(row.map((x) => mark(x, 100, 0.9))), strip());
    expect(places(fused)).toEqual(row);
    expect(fused.detections.find((d) => d.baseStripPx[1] === 10)?.kind).toBe('weed');
  });

  it('does not tell of a faint mark far off the row that neither colour nor the network holds for a weed', () => {
    const stone = mark(350, 10, 0.06, { kind: 'unsure' });
    const network = findings([...row.map((x) => mark(x, 100, 0.9)), stone]);
    const fused = fuseFindings(network, findings(row.map((x) => mark(x, 100, 0.9))), strip());
    expect(fused.detections).toHaveLength(row.length);
  });

  it('slides bases along the line of sight only: from the side across the row, not along it', () => {
    const side = strip({ alongM: 0.5, acrossM: -2, heightM: 1.5 });
    const fused = fuseFindings(
      findings([mark(500, 70, 0.9), ...row.slice(0, 4).map((x) => mark(x, 70, 0.9))]),
      findings(row.map((x) => mark(x, 100, 0.9))),
      side,
    );
    const moved = fused.detections.find((d) => Math.abs(d.baseStripPx[0] - 500) < 1)!;
    expect(moved.baseStripPx[1]).toBeGreaterThan(80);
    expect(moved.crownStripPx).toEqual([500, 70]);
  });

  it('counts a likely double as two plants 15 mm apart, an unlikely one as one', () => {
    const colour = findings(row.map((x) => mark(x, 100, 0.9)));
    const with2 = (doubleChance: number): number[] =>
      places(
        fuseFindings(findings(row.map((x) => mark(x, 100, 0.9, x === 300 ? { doubleChance } : {}))), colour, strip()),
      );
    expect(with2(0.1)).toEqual(row);
    expect(with2(0.7)).toEqual([100, 200, 293, 308, 400, 500]);
  });

  it('does not think a crop plant likely that the network calls a weed, where the scale is only claimed', () => {
    const network = findings([...row.map((x) => mark(x, 100, 0.9)), mark(350, 100, 0.7, { kind: 'weed' })]);
    const { detections } = fuseFindings(network, findings(row.map((x) => mark(x, 100, 0.9))), strip(), false);
    const weeds = detections.filter((d) => d.kind === 'weed');
    expect(weeds.map((d) => d.baseStripPx[0])).toEqual([350]);
    expect(weeds[0]!.confidence).toBeLessThan(0.5);
  });

  it('drops a faint second mark of one plant', () => {
    const network = findings([...row.map((x) => mark(x, 100, 0.9)), mark(312, 100, 0.4, { leafAreaMm2: 60 })]);
    expect(places(fuseFindings(network, findings(row.map((x) => mark(x, 100, 0.9))), strip()))).toEqual(row);
  });
});
