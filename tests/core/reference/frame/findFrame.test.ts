import { describe, expect, it } from 'vitest';
import { projectPoint } from '../../../../src/core/geometry/camera.ts';
import { applyHomography } from '../../../../src/core/geometry/homography.ts';
import { findFrame } from '../../../../src/core/reference/frame/findFrame.ts';
import { RESTING_HEIGHT } from '../../../../src/core/reference/plane/restingHeight.ts';
import type { FoundReference } from '../../../../src/core/reference/reference.ts';
import { groundPicture, lookingAt } from '../../../support/groundScene.ts';
import { usualCues } from '../../../support/usualCues.ts';

const SIZE = { widthPx: 1000, heightPx: 750, focalPx: 790 };
const cues = usualCues(SIZE.focalPx);
const camera = lookingAt([0.45, -0.35, 1.35], [0.5, 0.22, 0], SIZE, 0.03);
const BAR_M = 0.025;
/** Inside edges lie half the bar's width above what the frame rests on: the picture is painted on that plane. */
const LIFT_M = BAR_M / 2 + RESTING_HEIGHT.frame.heightM;
const over: typeof camera = {
  ...camera,
  position: [camera.position[0], camera.position[1], camera.position[2] - LIFT_M],
};

function scene(alongM: number, acrossM: number, cover: (x: number, y: number) => boolean = () => false) {
  return groundPicture(over, SIZE.widthPx, SIZE.heightPx, (x, y) => {
    if (cover(x, y)) return 0.1;
    const outside = x < -BAR_M || y < -BAR_M || x > alongM + BAR_M || y > acrossM + BAR_M;
    const inside = x > 0 && y > 0 && x < alongM && y < acrossM;
    return outside || inside ? null : 0.75;
  });
}

function found(photo: ReturnType<typeof scene>, alongM: number, acrossM: number): FoundReference {
  const result = findFrame(photo, alongM, acrossM, cues);
  if (result.kind === 'none') throw new Error(result.reason);
  return result;
}

describe('findFrame', () => {
  it('places the soil inside to 1 % of the side, zero at the left, across into the frame', () => {
    const reference = found(scene(1, 0.5), 1, 0.5);
    for (const [x, y] of [
      [0.05, 0.05],
      [0.5, 0.25],
      [0.95, 0.4],
    ] as const) {
      const [a, c] = applyHomography(reference.photoToGround, projectPoint(camera, [x, y, 0]));
      expect(Math.abs(a - x)).toBeLessThan(0.01);
      expect(Math.abs(c - y)).toBeLessThan(0.01);
    }
    expect(reference.camera!.heightM).toBeCloseTo(1.35, 1);
    expect(reference.coveredPx).toHaveLength(4);
  });

  it('takes the first size as along, whichever side is longer', () => {
    const reference = found(scene(0.5, 1 / 2.5), 0.4, 0.5);
    const [ax, ay] = reference.endsPx[0];
    const [bx, by] = reference.endsPx[1];
    expect(Math.abs(by - ay)).toBeGreaterThan(Math.abs(bx - ax));
    expect(by).toBeLessThan(ay);
  });

  it('bears a leaf over a bar', () => {
    const leaf = (x: number, y: number) => Math.hypot(x - 0.4, y) < 0.06;
    const reference = found(scene(1, 0.5, leaf), 1, 0.5);
    const [a] = applyHomography(reference.photoToGround, projectPoint(camera, [0.9, 0.25, 0]));
    expect(Math.abs(a - 0.9)).toBeLessThan(0.01);
  });

  it('refuses sizes of other proportions, and soil without a frame', () => {
    const wrong = findFrame(scene(1, 0.5), 1, 1, cues);
    expect(wrong).toMatchObject({ kind: 'none', reason: expect.stringContaining('do not fit') });
    const bare = findFrame(
      groundPicture(over, SIZE.widthPx, SIZE.heightPx, () => null),
      1,
      0.5,
      cues,
    );
    expect(bare.kind).toBe('none');
  });
});
