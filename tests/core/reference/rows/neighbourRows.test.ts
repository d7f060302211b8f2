import { describe, expect, it } from 'vitest';
import { type Camera, projectPoint, upInCamera } from '../../../../src/core/geometry/camera.ts';
import { RESTING_HEIGHT } from '../../../../src/core/reference/plane/restingHeight.ts';
import { solvePlane } from '../../../../src/core/reference/plane/solvePlane.ts';
import type { CameraCues, FoundLine, FoundReference } from '../../../../src/core/reference/reference.ts';
import { seeded } from '../../../support/drawLineScene.ts';
import { lookingAt } from '../../../support/groundScene.ts';

const SIZE = { widthPx: 4032, heightPx: 3024, focalPx: 3000 };
const side = lookingAt([1.6, -2.0, 1.5], [1.5, 0.05, 0], SIZE, 0.02);
const down = lookingAt([1, 0.03, 1.55], [1.02, 0.05, 0], SIZE, 0, [0, 1, 0]);
const along = lookingAt([-0.8, 0.05, 1.45], [0.9, 0, 0], SIZE, -0.015);

/** A lone tape of two metres, and nothing told of the camera but its focal length and the row width. */
const cues = (rowWidthM: number): CameraCues => ({
  focalPx: SIZE.focalPx,
  heightM: 1.5,
  heightSdM: 0.25,
  heightGiven: false,
  gravity: null,
  rowWidthM,
});

function tape(camera: Camera): FoundLine {
  const readings = Array.from({ length: 21 }, (_, i) => {
    const [xPx, yPx] = projectPoint(camera, [i / 10, 0, RESTING_HEIGHT.tape.heightM]);
    return { xPx, yPx, readingM: i / 10, sdPx: 0.5 };
  });
  const [first, last] = [readings[0]!, readings[20]!];
  return {
    kind: 'tape',
    readings,
    endsPx: [
      [first.xPx, first.yPx],
      [last.xPx, last.yPx],
    ],
    endsM: [0, 2],
    endsSeen: [true, true],
    widths: [],
    lengthErrorMm: 0,
    coveredPx: [],
    warnings: [],
  };
}

/** Leaves 4 cm above the soil: rows at the given places across, a spread of 4 cm, all of them or a share by row. */
function leaves(camera: Camera, acrossM: readonly number[], slope = 0, shares: readonly number[] = []) {
  const random = seeded(3);
  const x: number[] = [];
  const y: number[] = [];
  for (const [k, row] of acrossM.entries()) {
    for (let m = -1; m < 3.5; m += 0.02 / (shares[k] ?? 1)) {
      const across = row + slope * m + 0.08 * (random() - 0.5);
      const [px, py] = projectPoint(camera, [m + 0.05 * (random() - 0.5), across, 0.04]);
      if (px >= 0 && py >= 0 && px < SIZE.widthPx && py < SIZE.heightPx) {
        x.push(px);
        y.push(py);
      }
    }
  }
  return () => ({ x: Float32Array.from(x), y: Float32Array.from(y) });
}

function solved(camera: Camera, rowWidthM: number, green: ReturnType<typeof leaves>): FoundReference {
  const found = solvePlane(tape(camera), cues(rowWidthM), { ...SIZE, green });
  if (found.kind === 'none') throw new Error(found.reason);
  return found;
}

const tiltError = (found: FoundReference, camera: Camera): number => {
  const [a, b] = [found.camera!, camera.position];
  return Math.abs(Math.atan2(a.acrossM, a.heightM) - Math.atan2(b[1], b[2]));
};
const usesRows = (found: FoundReference): boolean => found.cues.join().includes('neighbouring rows');

describe('neighbouring rows as a cue for the tilt', () => {
  it.each([
    ['from the side', side],
    ['straight down', down],
    ['along the row', along],
  ])('settles the tilt %s within a degree', (_, camera) => {
    const green = leaves(camera, [-1.4, -0.64, 0.12, 0.88, 1.64]);
    const found = solved(camera, 0.76, green);
    expect(usesRows(found)).toBe(true);
    // 2 cm in 76 cm of planter doubt and 3 cm of leaf height over 1.5 m come to about 1 degree
    expect(tiltError(found, camera)).toBeLessThan(0.02);
    const without = solvePlane(tape(camera), cues(0.76), SIZE) as FoundReference;
    expect(found.alongErrorMm).toBeLessThan(without.alongErrorMm);
  });

  it.each([0.8, 0.6, 0.4])('is not turned over by a middle row with %f of the leaves of the others', (share) => {
    const found = solved(down, 0.5, leaves(down, [-0.38, 0.12, 0.62], 0, [1, share, 1]));
    // straight down is held within 0.09 (see likelyViews); two full rows a metre apart would be a turn of 1
    expect(tiltError(found, down)).toBeLessThan(0.09);
  });

  it('bears a tape that lies 2 degrees off the rows', () => {
    const found = solved(side, 0.76, leaves(side, [-0.64, 0.12, 0.88, 1.64], 0.035));
    expect(usesRows(found)).toBe(true);
    expect(tiltError(found, side)).toBeLessThan(0.02);
  });

  it('says nothing when only the row beside the tape is seen, or leaves lie everywhere', () => {
    expect(usesRows(solved(side, 0.76, leaves(side, [0.12])))).toBe(false);
    const everywhere = Array.from({ length: 60 }, (_, i) => -1.5 + i * 0.05);
    expect(usesRows(solved(side, 0.76, leaves(side, everywhere)))).toBe(false);
  });

  it('does not take rows of another width for a tilt that gravity denies', () => {
    const gravity = upInCamera(side).map((v) => -v) as [number, number, number];
    const green = leaves(side, [-0.64, 0.12, 0.88, 1.64]);
    const told: CameraCues = { ...cues(0.5), gravity, heightGiven: true, heightSdM: 0.05 };
    const found = solvePlane(tape(side), told, { ...SIZE, green }) as FoundReference;
    expect(tiltError(found, side)).toBeLessThan(0.02);
  });
});
