import { describe, expect, it } from 'vitest';
import { type Camera, projectPoint } from '../../../../src/core/geometry/camera.ts';
import { norm } from '../../../../src/core/geometry/norm.ts';
import { heightOfLine } from '../../../../src/core/reference/plane/heightOfLine.ts';
import { RESTING_HEIGHT } from '../../../../src/core/reference/plane/restingHeight.ts';
import type { FoundLine } from '../../../../src/core/reference/reference.ts';
import { lookingAt } from '../../../support/groundScene.ts';

const SIZE = { widthPx: 4032, heightPx: 3024, focalPx: 3000 };
const down = lookingAt([0.9, 0, 1.5], [0.9, 0.01, 0], SIZE, 0, [0, 1, 0]);
const side = lookingAt([0.9, -1.5, 1.5], [0.9, 0, 0], SIZE);
const RADIUS_M = 0.012;

/** A round rod of 1.8 m as wide in the picture as its angle: a cylinder's outline. */
function rod(camera: Camera, byEnds: boolean): FoundLine {
  const widths = [0.1, 0.6, 0.9, 1.3, 1.7].map((readingM) => {
    const [cx, cy, cz] = camera.position;
    const [x, y] = projectPoint(camera, [readingM, 0, 0]);
    const stretched = norm(x - camera.middlePx[0], y - camera.middlePx[1], camera.focalPx);
    return { readingM, widthPx: (2 * RADIUS_M * stretched) / norm(cx - readingM, cy, cz) };
  });
  return {
    kind: 'rod',
    byEnds,
    readings: [],
    endsPx: [
      [0, 0],
      [1, 0],
    ],
    endsM: [0, 1.8],
    endsSeen: [true, true],
    widths,
    lengthErrorMm: 0,
    coveredPx: [],
    warnings: [],
  };
}

describe('heightOfLine', () => {
  const resting = RESTING_HEIGHT.rod.heightM;

  it('bands show on the side turned to the camera: on top from above, lower from aside', () => {
    // Geometry of a circle: a point on it towards a camera at 45 degrees is r (1 + 0.7071) above its lowest.
    expect(heightOfLine(rod(down, false), down).heightM).toBeCloseTo(resting + 2 * RADIUS_M, 5);
    expect(heightOfLine(rod(side, false), side).heightM).toBeCloseTo(resting + RADIUS_M * 1.70711, 5);
  });

  it('bare ends may be flat or rounded: between the middle and the top, with the wider doubt', () => {
    const ends = heightOfLine(rod(down, true), down);
    expect(ends.heightM).toBeCloseTo(resting + 1.5 * RADIUS_M, 5);
    expect(ends.sdM).toBeGreaterThan(heightOfLine(rod(down, false), down).sdM);
  });

  it('hand marks stand as high as what they lie on: a rod as its bands, a frame half way up its bars', () => {
    const marks = { ...rod(down, false), kind: 'marks' } as const;
    expect(heightOfLine({ ...marks, on: 'rod' }, down)).toEqual(heightOfLine(rod(down, false), down));
    const frame = heightOfLine({ ...marks, on: 'frame' }, down);
    expect(frame.heightM).toBeCloseTo(RESTING_HEIGHT.frame.heightM + RADIUS_M, 5);
    const strip = heightOfLine({ ...marks, on: 'strip' }, down);
    const [flat, round] = [RESTING_HEIGHT.tape, heightOfLine(rod(down, false), down)];
    expect(strip.heightM).toBeCloseTo((flat.heightM + round.heightM) / 2, 5);
    expect(strip.sdM).toBeGreaterThanOrEqual(RADIUS_M);
    expect(heightOfLine({ ...marks, on: 'tape' }, down)).toEqual(RESTING_HEIGHT.tape);
    expect(heightOfLine(marks, down)).toEqual(RESTING_HEIGHT.marks);
  });

  it('a strip wider than any rod has no thickness to add, a tape none at all', () => {
    const board = rod(down, false);
    const wide = { ...board, widths: board.widths.map((w) => ({ ...w, widthPx: 4 * w.widthPx })) };
    expect(heightOfLine(wide, down)).toEqual(RESTING_HEIGHT.rod);
    expect(heightOfLine({ ...board, kind: 'tape' }, down)).toEqual(RESTING_HEIGHT.tape);
  });
});
