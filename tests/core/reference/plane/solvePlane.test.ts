import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Camera, projectPoint, upInCamera } from '../../../../src/core/geometry/camera.ts';
import { applyHomography } from '../../../../src/core/geometry/homography.ts';
import type { Point } from '../../../../src/core/geometry/point.ts';
import { times } from '../../../../src/core/geometry/vector.ts';
import { RESTING_HEIGHT } from '../../../../src/core/reference/plane/restingHeight.ts';
import { solvePlane } from '../../../../src/core/reference/plane/solvePlane.ts';
import type { CameraCues, FoundLine, FoundReference } from '../../../../src/core/reference/reference.ts';
import { lookingAt } from '../../../support/groundScene.ts';

const SIZE = { widthPx: 4032, heightPx: 3024, focalPx: 3000 };
const side = lookingAt([1.6, -2.0, 1.5], [1.5, 0.05, 0], SIZE, 0.02);
const down = lookingAt([1, 0.03, 1.55], [1.02, 0.05, 0], SIZE, 0, [0, 1, 0]);
const along = lookingAt([-0.8, 0.05, 1.45], [0.9, 0, 0], SIZE, -0.015);

/** A tape lies as high over the mean soil as tapes are taken to lie. */
function lineOf(camera: Camera, readingsM: readonly number[], aboveM = RESTING_HEIGHT.tape.heightM): FoundLine {
  const readings = readingsM.map((readingM) => {
    const [xPx, yPx] = projectPoint(camera, [readingM, 0, aboveM]);
    return { xPx, yPx, readingM, sdPx: 0.5 };
  });
  const [first, last] = [readings[0]!, readings[readings.length - 1]!];
  return {
    kind: 'tape',
    readings,
    endsPx: [
      [first.xPx, first.yPx],
      [last.xPx, last.yPx],
    ],
    endsM: [first.readingM, last.readingM],
    endsSeen: [true, true],
    widths: [],
    lengthErrorMm: 0,
    coveredPx: [],
    warnings: [],
  };
}

const steps = (from: number, to: number) => Array.from({ length: 21 }, (_, i) => from + ((to - from) * i) / 20);
const plainCues: CameraCues = {
  focalPx: SIZE.focalPx,
  heightM: 1.5,
  heightSdM: 0.25,
  heightGiven: false,
  gravity: null,
  rowWidthM: null,
};
const cuesFor = (camera: Camera) => ({
  height: { ...plainCues, heightM: camera.position[2], heightSdM: 0.05, heightGiven: true },
  gravity: { ...plainCues, gravity: times(upInCamera(camera), -1) },
});

function solved(line: FoundLine, cues: CameraCues): FoundReference {
  const found = solvePlane(line, cues, SIZE);
  if (found.kind === 'none') throw new Error(found.reason);
  return found;
}

/** Worst error along of points within 15 cm of the line, share of the stretch. */
function worstShare(found: FoundReference, camera: Camera): number {
  const [from, to] = found.endsM;
  let worst = 0;
  for (const across of [-0.15, 0, 0.15]) {
    for (const m of steps(from, to)) {
      const [x] = applyHomography(found.photoToGround, projectPoint(camera, [m, across, 0]));
      worst = Math.max(worst, Math.abs(x - m) / (to - from));
    }
  }
  return worst;
}

describe('solvePlane', () => {
  it.each([
    ['from the side', side, 0, 3],
    ['straight down', down, 0.1, 1.9],
    ['along the row', along, 0.2, 2.4],
  ] as const)('one strong cue places points within 15 cm to one percent of the length: %s', (_, camera, from, to) => {
    for (const cues of Object.values(cuesFor(camera))) {
      const found = solved(lineOf(camera, steps(from, to)), cues);
      expect(worstShare(found, camera)).toBeLessThan(0.01);
      expect(found.otherPhotoToGround.length).toBeGreaterThanOrEqual(12);
      expect(found.alongErrorMm).toBeGreaterThan(0);
    }
  });

  it('with gravity knows where the camera stood, and on which side', () => {
    const found = solved(lineOf(side, steps(0, 3)), cuesFor(side).gravity);
    expect(found.camera!.alongM).toBeCloseTo(1.6, 1);
    expect(found.camera!.acrossM).toBeCloseTo(-2.0, 1);
    expect(found.camera!.heightM).toBeCloseTo(1.5, 1);
  });

  it('puts across to the left along increasing readings', () => {
    for (const camera of [side, down, along]) {
      const found = solved(lineOf(camera, steps(0.2, 1.8)), cuesFor(camera).gravity);
      const [a, c] = applyHomography(found.photoToGround, projectPoint(camera, [1, 0.2, 0]));
      expect(a).toBeCloseTo(1, 2);
      expect(c).toBeCloseTo(0.2, 2);
    }
  });

  it('gives the same ground when readings run the other way', () => {
    const there = solved(lineOf(side, steps(0, 3)), cuesFor(side).height);
    const line = lineOf(side, steps(0, 3));
    const back = [...line.readings].reverse().map((r) => ({ ...r, readingM: 3 - r.readingM }));
    const [e0, e1] = line.endsPx;
    const turned = solved({ ...line, readings: back, endsPx: [e1, e0] }, cuesFor(side).height);
    const pixel = projectPoint(side, [1.1, 0.12, 0]);
    const [a, c] = applyHomography(there.photoToGround, pixel);
    const [a2, c2] = applyHomography(turned.photoToGround, pixel);
    expect(a2).toBeCloseTo(3 - a, 4);
    expect(c2).toBeCloseTo(-c, 4);
  });

  it('gives the mirrored ground for a mirrored photo', () => {
    const line = lineOf(side, steps(0, 3));
    const flip = (x: number) => SIZE.widthPx - 1 - x;
    const mirrored = { ...line, readings: line.readings.map((r) => ({ ...r, xPx: flip(r.xPx) })) };
    const plain = solved(line, cuesFor(side).height);
    const other = solved(mirrored, cuesFor(side).height);
    const [x, y] = projectPoint(side, [0.9, -0.1, 0]);
    const [a, c] = applyHomography(plain.photoToGround, [x, y]);
    const [a2, c2] = applyHomography(other.photoToGround, [flip(x), y]);
    expect(a2).toBeCloseTo(a, 4);
    expect(c2).toBeCloseTo(-c, 4);
  });

  it.each([
    ['from the side', side, 0, 3],
    ['straight down', down, 0.1, 1.9],
    ['along the row', along, 0.2, 2.4],
  ] as const)(
    'lengths on the soil are longer than on a tape over it, by its height over the camera: %s',
    (_, camera, from, to) => {
      // Similar triangles: what covers L at height h covers L H / (H - h) on the soil under a camera at H.
      const given = cuesFor(camera).gravity;
      const lengthOn = (aboveM: number): number => {
        const found = solved(lineOf(camera, steps(from, to), aboveM), given);
        const [a, b] = [from, to].map((m) => applyHomography(found.photoToGround, projectPoint(camera, [m, 0, 0]))[0]);
        return (b! - a!) / (to - from);
      };
      const usual = RESTING_HEIGHT.tape.heightM;
      expect(lengthOn(usual)).toBeCloseTo(1, 4);
      // A tape pressed flat is taken to lie higher than it does: too long by no more than its height, 0.3 %.
      expect(lengthOn(0) - 1).toBeGreaterThan(0);
      expect(lengthOn(0) - 1).toBeLessThan(0.003);
      // One 3 cm up on stubble: too short by what is left, within the doubt that is said.
      const high = 0.03 - usual;
      expect(lengthOn(0.03) - 1).toBeCloseTo(-high / camera.position[2], 3);
    },
  );

  it('says a wider error the less is known', () => {
    const line = lineOf(side, steps(0, 3));
    const given = solved(line, cuesFor(side).height).alongErrorMm;
    const loose = solved(line, plainCues).alongErrorMm;
    const noFocal = solved(line, { ...plainCues, focalPx: null }).alongErrorMm;
    expect(given).toBeLessThan(loose);
    expect(loose).toBeLessThan(noFocal);
  });

  it('takes a neighbouring row as a cue', () => {
    const rowAt = (m: number): Point => projectPoint(side, [m, 0.76, 0]);
    const parallelLines = [{ linePx: [rowAt(0), rowAt(3)] as const, acrossM: 0.76, acrossSdM: 0.02 }];
    const found = solvePlane(lineOf(side, steps(0, 3)), plainCues, { ...SIZE, parallelLines });
    if (found.kind === 'none') throw new Error(found.reason);
    expect(worstShare(found, side)).toBeLessThan(0.002);
    expect(found.cues.join()).toContain('neighbouring row');
  });

  it('warns when the scale contradicts the height that was given', () => {
    // Centimetres taken for inches: everything 2.54 times too large.
    const line = lineOf(side, steps(0, 3));
    const wrong = {
      ...line,
      readings: line.readings.map((r) => ({ ...r, readingM: r.readingM / 2.54 })),
      endsM: [0, 3 / 2.54] as const,
    };
    const codes = (cues: CameraCues) => solved(wrong, cues).warnings.map((w) => w.code);
    expect(codes(cuesFor(side).height)).toContain('height-contradicts');
    expect(solved(line, cuesFor(side).height).warnings).toEqual([]);
  });

  it('asks about a named length by which the camera, beside rows at the row width, was held where few hold it', () => {
    const rowAt = (m: number): Point => projectPoint(side, [m, 0.76, 0]);
    const named = (by: number, byEnds: boolean) => {
      const line = lineOf(side, steps(0, 3));
      const readings = line.readings.map((r) => ({ ...r, readingM: by * r.readingM }));
      const parallelLines = [{ linePx: [rowAt(0), rowAt(3)] as const, acrossM: 0.76, acrossSdM: 0.02 }];
      const found = solvePlane({ ...line, readings, endsM: [0, 3 * by], byEnds }, plainCues, {
        ...SIZE,
        parallelLines,
      });
      if (found.kind === 'none') throw new Error(found.reason);
      return found.warnings.map((w) => w.code);
    };
    expect(named(1, true)).toEqual([]);
    // 10 ft called 12 ft, 8 ft called 6 ft: 1.9 to 2 m, and 1 m
    expect(named(1.2, true)).toContain('length-odd');
    expect(named(0.75, true)).toContain('length-odd');
    // marks that were read say their own length
    expect(named(1.2, false)).not.toContain('length-odd');
  });

  it('answers "none" for readings that give no line', () => {
    const line = lineOf(side, [0, 3]);
    const same = { ...line, readings: line.readings.map((r) => ({ ...r, xPx: 100, yPx: 100 })) };
    expect(solvePlane(same, plainCues, SIZE).kind).toBe('none');
    expect(solvePlane({ ...line, readings: line.readings.slice(0, 1) }, plainCues, SIZE).kind).toBe('none');
  });

  it('keeps to 1 % for any usual side view with the height known', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1.2, max: 1.8, noNaN: true }),
        fc.double({ min: 1.6, max: 2.4, noNaN: true }),
        fc.double({ min: -0.05, max: 0.05, noNaN: true }),
        fc.boolean(),
        (heightM, away, roll, left) => {
          const camera = lookingAt([1.4, left ? away : -away, heightM], [1.5, 0, 0], SIZE, roll);
          const found = solved(lineOf(camera, steps(0.4, 2.6)), cuesFor(camera).height);
          expect(worstShare(found, camera)).toBeLessThan(0.01);
        },
      ),
      { numRuns: 25 },
    );
  });
});
