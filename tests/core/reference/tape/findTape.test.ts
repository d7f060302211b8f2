import { describe, expect, it } from 'vitest';
import type { Raster } from '../../../../src/core/raster/raster.ts';
import { makeRaster } from '../../../../src/core/raster/raster.ts';
import type { FoundLine, NoReference } from '../../../../src/core/reference/reference.ts';
import { findTape, type TapeRequest } from '../../../../src/core/reference/tape/findTape.ts';
import { readPhoto } from '../../../../src/node/readPhoto.ts';
import { closeScene, NEAR_CAMERA } from '../../../support/closeScene.ts';
import {
  drawLineScene,
  groundToPhoto,
  type LineScene,
  type StripPaint,
  seeded,
} from '../../../support/drawLineScene.ts';
import { type TapeLook, tapePaint } from '../../../support/tapePaint.ts';

const YELLOW_CM: TapeLook = {
  system: 'cm',
  widthM: 0.016,
  base: [225, 195, 60],
  ink: [25, 25, 25],
  finest: 10,
  edges: 'one',
  numerals: true,
  bigMarks: true,
};
const WHITE_CM: TapeLook = { ...YELLOW_CM, base: [228, 228, 222], widthM: 0.025, bigMarks: false };
const WHITE_IN: TapeLook = {
  ...YELLOW_CM,
  system: 'in',
  base: [235, 235, 228],
  finest: 16,
  edges: 'both',
  widthM: 0.019,
};

const CM: TapeRequest = { kind: 'tape', graduations: 'cm' };
const IN: TapeRequest = { kind: 'tape', graduations: 'in' };

const cmScene = closeScene(tapePaint(YELLOW_CM), YELLOW_CM.widthM);
const cmPhoto = drawLineScene(cmScene);
const inScene = closeScene(tapePaint(WHITE_IN), WHITE_IN.widthM, { soil: [60, 48, 40], leaves: 40 });
const inPhoto = drawLineScene(inScene);

describe('findTape', () => {
  it('reads centimetres on a yellow tape: length within 0.5 %, ends within 2 px', () => {
    const tape = found(findTape(cmPhoto, CM, NEAR_CAMERA));
    expect(tape.endsM[1]).toBeGreaterThan(0.9 * 0.995);
    expect(tape.endsM[1]).toBeLessThan(0.9 * 1.005);
    expect(tape.endsSeen).toEqual([true, true]);
    expect(distance(tape.endsPx[0], groundToPhoto(cmScene, 0, 0.02))).toBeLessThan(2);
    expect(distance(tape.endsPx[1], groundToPhoto(cmScene, 0.9, 0.02))).toBeLessThan(2);
  });

  it('reads inches on a white tape, each reading within 0.5 % of the tape', () => {
    const tape = found(findTape(inPhoto, IN, NEAR_CAMERA));
    for (const r of tape.readings) {
      expect(distance([r.xPx, r.yPx], groundToPhoto(inScene, r.readingM, 0.02))).toBeLessThan(0.005 * 1000);
    }
  });

  it('finds the unit by itself when the camera height and focal length are known', () => {
    expect(found(findTape(inPhoto, { kind: 'auto' }, NEAR_CAMERA)).endsM[1]).toBeCloseTo(0.9, 2);
  });

  it('does not read an inch tape as centimetres', () => {
    const answer = findTape(inPhoto, CM, NEAR_CAMERA);
    expect(answer.kind).toBe('none');
    expect((answer as NoReference).reason).toContain('1 in marks');
  });

  it('gives the same length for the photo mirrored, turned by 90 degrees and blown up twice', () => {
    const plain = found(findTape(cmPhoto, CM, NEAR_CAMERA)).endsM[1];
    expect(found(findTape(mirrored(cmPhoto), CM, NEAR_CAMERA)).endsM[1]).toBeCloseTo(plain, 2);
    expect(found(findTape(turned(cmPhoto), CM, NEAR_CAMERA)).endsM[1]).toBeCloseTo(plain, 2);
    const twice = { ...NEAR_CAMERA, focalPx: 2 * NEAR_CAMERA.focalPx };
    expect(found(findTape(doubled(cmPhoto), CM, twice)).endsM[1]).toBeCloseTo(plain, 2);
  });

  it('bridges leaves and shade', () => {
    const scene = closeScene(tapePaint(YELLOW_CM), YELLOW_CM.widthM, { leaves: 130, shadows: 0.3, seed: 9 });
    const tape = found(findTape(drawLineScene(scene), CM, NEAR_CAMERA));
    const [a, b] = [tape.readings[3]!, tape.readings[12]!];
    const true0 = groundToPhoto(scene, 0.2, 0.02);
    const true1 = groundToPhoto(scene, 0.7, 0.02);
    const perPx = (b.readingM - a.readingM) / distance([a.xPx, a.yPx], [b.xPx, b.yPx]);
    // the middle half is seen at nearly one scale
    expect(perPx / (0.5 / distance(true0, true1))).toBeCloseTo(1, 1);
  });

  it('reads a tape with inches along one edge and centimetres along the other, whichever is named', () => {
    const inches = tapePaint({ ...WHITE_IN, edges: 'one', numerals: false, finest: 4, widthM: 0.03 });
    const cm = tapePaint({ ...WHITE_CM, edges: 'one', numerals: false, widthM: 0.03 });
    const both: StripPaint = (along, across) => (across < 0 ? inches(along, across) : cm(along, -across));
    const photo = drawLineScene(closeScene(both, 0.03));
    for (const request of [IN, CM]) {
      // within 0.5 %, as a tape of one unit
      expect(Math.abs(found(findTape(photo, request, NEAR_CAMERA)).endsM[1] / 0.9 - 1)).toBeLessThan(0.005);
    }
  });

  it('finds both ends of a tape that lies half in the shade, also the one in the sun', () => {
    const border = groundToPhoto(cmScene, 0.25, 0.02)[0];
    const data = cmPhoto.data.map((v, i) => {
      const x = (i >> 2) % cmPhoto.widthPx;
      return i % 4 === 3 || x < border ? v : v * 0.35;
    });
    const tape = found(findTape({ ...cmPhoto, data }, { kind: 'tape', lengthM: 0.9 }, NEAR_CAMERA));
    expect(tape.endsSeen).toEqual([true, true]);
    // as close as without the shade
    expect(distance(tape.endsPx[0], groundToPhoto(cmScene, 0, 0.02))).toBeLessThan(2);
    expect(distance(tape.endsPx[1], groundToPhoto(cmScene, 0.9, 0.02))).toBeLessThan(2);
  });

  it('refuses two tapes', () => {
    const one = cmScene.strips[0]!;
    const scene: LineScene = { ...cmScene, strips: [one, { ...one, acrossM: 0.14 }] };
    const answer = findTape(drawLineScene(scene), CM, NEAR_CAMERA) as NoReference;
    expect(answer.kind).toBe('none');
    expect(answer.warnings.map((w) => w.code)).toEqual(['two-references']);
  });

  it('refuses a hose: a straight strip without graduations', () => {
    const scene = closeScene(() => [40, 120, 60], 0.02);
    const answer = findTape(drawLineScene(scene), CM, NEAR_CAMERA);
    expect(answer.kind).toBe('none');
  });

  it('does not take the faint even shading of a bare rod for print when nobody said what lies there', async () => {
    // rendered: a plain rod of 1.83 m, once read as an inch tape of 2.17 m
    const photo = await readPhoto('sample-images/side-rod-plain-bright.jpg');
    if (!photo.ok) throw new Error(photo.found);
    const { raster } = photo.value;
    const camera = { focalPx: 0.6 * Math.hypot(raster.widthPx, raster.heightPx), heightM: 1.5, heightSdM: 0.25 };
    expect(findTape(raster, { kind: 'auto' }, camera).kind).toBe('none');
  });

  it('never takes a bare row of half-inch ticks for centimetres without a word', () => {
    const ticks: StripPaint = (along, across) =>
      across < 0 && Math.abs(along - Math.round(along / 0.0127) * 0.0127) < 0.0005 ? [25, 25, 25] : [225, 195, 60];
    const photo = drawLineScene(closeScene(ticks, 0.016));
    expect(findTape(photo, { kind: 'auto' }, NEAR_CAMERA).kind).toBe('none');
    const named = findTape(photo, CM, NEAR_CAMERA);
    expect(named.kind === 'none' || named.warnings.some((w) => w.code === 'units-not-checked')).toBe(true);
  });

  it('bare marks every two centimetres: not told from inches alone, read right when centimetres are named', () => {
    const marks: StripPaint = (along, across) =>
      across < 0 && Math.abs(along - Math.round(along / 0.02) * 0.02) < 0.0005 ? [25, 25, 25] : [225, 195, 60];
    const photo = drawLineScene(closeScene(marks, 0.016));
    const alone = findTape(photo, { kind: 'auto' }, NEAR_CAMERA) as NoReference;
    expect(alone.kind).toBe('none');
    expect(alone.reason).toContain('two readings');
    expect(Math.abs(found(findTape(photo, CM, NEAR_CAMERA)).endsM[1] / 0.9 - 1)).toBeLessThan(0.005);
    // named inches they are 27 % too long: never without a word
    expect(found(findTape(photo, IN, NEAR_CAMERA)).warnings.map((w) => w.code)).toContain('units-not-checked');
  });

  it('stays where it is under one grey level of noise, along the row where marks melt into grey far off', () => {
    const scene: LineScene = {
      ...closeScene(tapePaint(WHITE_CM), WHITE_CM.widthM, { toM: 2.4, leaves: 60, straws: 40 }),
      widthPx: 700,
      heightPx: 1300,
      focalPx: 1300,
      cameraM: [-0.8, -0.1, 1.5],
      lookAtM: [0.75, 0],
      rollDeg: 1,
      noise: 6,
    };
    const photo = drawLineScene(scene);
    const camera = { focalPx: 1300, heightM: 1.5, heightSdM: 0.25 };
    const lengths = [0, 1, 2, 3].map((seed) => {
      const random = seeded(seed);
      const data = photo.data.map((v, i) =>
        seed === 0 || i % 4 === 3 ? v : Math.max(0, Math.min(255, v + Math.floor(3 * random()) - 1)),
      );
      return found(findTape({ ...photo, data }, CM, camera));
    });
    const ends = lengths.map((tape) => tape.endsM[1]);
    expect(Math.max(...ends) - Math.min(...ends)).toBeLessThan(0.01 * 2.4);
    for (const tape of lengths) expect(Math.abs(1000 * (tape.endsM[1] - 2.4))).toBeLessThan(2 * tape.lengthErrorMm);
  });

  it('takes a known length between two ends, and says when the graduations disagree', () => {
    const tape = found(findTape(cmPhoto, { kind: 'tape', lengthM: 0.9 }, NEAR_CAMERA));
    // its graduations give the scale: within 0.5 %, as above
    expect(Math.abs(tape.endsM[1] / 0.9 - 1)).toBeLessThan(0.005);
    const wrong = found(findTape(cmPhoto, { kind: 'tape', lengthM: 1.0 }, NEAR_CAMERA));
    expect(wrong.warnings.map((w) => w.code)).toContain('length-disagrees');
    // what is printed on it is not misremembered, nor hidden with an end
    expect(Math.abs(wrong.endsM[1] / 0.9 - 1)).toBeLessThan(0.005);
  });

  it('finds nothing in blank, noisy, bare or tiny pictures', () => {
    const blank = makeRaster(400, 300);
    const random = seeded(3);
    const noise = { ...blank, data: Uint8Array.from(blank.data, (_, i) => (i % 4 === 3 ? 255 : 255 * random())) };
    const bare = drawLineScene({ ...cmScene, strips: [], widthPx: 640, heightPx: 480 });
    for (const photo of [blank, noise, bare, makeRaster(1, 1), makeRaster(30, 4)]) {
      expect(findTape(photo, CM, NEAR_CAMERA).kind).toBe('none');
    }
  });
});

function found(answer: FoundLine | NoReference): FoundLine {
  if (answer.kind === 'none') throw new Error(answer.reason);
  return answer;
}

function distance(a: readonly [number, number], b: readonly [number, number]): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

function remapped(photo: Raster, widthPx: number, heightPx: number, from: (x: number, y: number) => number): Raster {
  const data = new Uint8Array(widthPx * heightPx * 4);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const at = 4 * from(x, y);
      for (let c = 0; c < 4; c++) data[4 * (y * widthPx + x) + c] = photo.data[at + c]!;
    }
  }
  return { widthPx, heightPx, data };
}

const mirrored = (p: Raster): Raster =>
  remapped(p, p.widthPx, p.heightPx, (x, y) => y * p.widthPx + (p.widthPx - 1 - x));
const turned = (p: Raster): Raster =>
  remapped(p, p.heightPx, p.widthPx, (x, y) => (p.heightPx - 1 - x) * p.widthPx + y);
const doubled = (p: Raster): Raster =>
  remapped(p, 2 * p.widthPx, 2 * p.heightPx, (x, y) => (y >> 1) * p.widthPx + (x >> 1));
