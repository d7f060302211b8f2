import { describe, expect, it } from 'vitest';
import { projectPoint } from '../../../../src/core/geometry/camera.ts';
import { applyHomography } from '../../../../src/core/geometry/homography.ts';
import { findMarked } from '../../../../src/core/reference/marks/findMarked.ts';
import { RESTING_HEIGHT } from '../../../../src/core/reference/plane/restingHeight.ts';
import type { Reading } from '../../../../src/core/reference/reference.ts';
import { groundPicture, lookingAt } from '../../../support/groundScene.ts';
import { usualCues } from '../../../support/usualCues.ts';

// Drawn, no photograph: a frame of 0.9 x 0.4 m inside, seen obliquely.
const SIZE = { widthPx: 1000, heightPx: 750, focalPx: 790 };
const cues = usualCues(SIZE.focalPx);
const [ALONG_M, ACROSS_M, BAR_M] = [0.9, 0.4, 0.025];
const camera = lookingAt([0.35, -0.55, 1.2], [0.45, 0.15, 0], SIZE, 0.03);
/** Inside edges lie half the bar's width above what the frame rests on: the picture is painted on that plane. */
const LIFT_M = BAR_M / 2 + RESTING_HEIGHT.frame.heightM;
const over: typeof camera = {
  ...camera,
  position: [camera.position[0], camera.position[1], camera.position[2] - LIFT_M],
};
const photo = groundPicture(over, SIZE.widthPx, SIZE.heightPx, (x, y) => {
  const outside = x < -BAR_M || y < -BAR_M || x > ALONG_M + BAR_M || y > ACROSS_M + BAR_M;
  const inside = x > 0 && y > 0 && x < ALONG_M && y < ACROSS_M;
  return outside || inside ? null : 0.75;
});
const mark = (x: number, y: number, readingM: number): Reading => {
  const [xPx, yPx] = projectPoint(over, [x, y, 0]);
  return { xPx, yPx, readingM };
};

function soilBy(marks: readonly Reading[]) {
  const marked = findMarked(photo, marks, cues);
  if (marked.kind === 'none') throw new Error(marked.reason);
  expect(marked).toMatchObject({ kind: 'marks', on: 'frame', warnings: [] });
  expect(marked.coveredPx).toHaveLength(4);
  return (x: number, y: number) => applyHomography(marked.photoToGround, projectPoint(camera, [x, y, 0]));
}

const PLACES = [0.05, 0.45, 0.85].flatMap((x) => [0.05, 0.35].map((y) => [x, y] as const));

// 1 % of the frame's length, as for a frame whose two sizes are named.
describe('markedFrame', () => {
  it('two marks at the inside corners of one bar give the tilt of the soil from the other corners', () => {
    const soil = soilBy([mark(0, 0, 2), mark(ALONG_M, 0, 2 + ALONG_M)]);
    for (const [x, y] of PLACES) {
      expect(Math.abs(soil(x, y)[0] - 2 - x)).toBeLessThan(0.009);
      expect(Math.abs(soil(x, y)[1] - y)).toBeLessThan(0.009);
    }
  });

  it('marks on a part of the far bar, read from right to left', () => {
    const soil = soilBy([mark(0.8, ACROSS_M, 0), mark(0.2, ACROSS_M, 0.6)]);
    for (const [x, y] of PLACES) {
      expect(Math.abs(soil(x, y)[0] - (0.8 - x))).toBeLessThan(0.009);
      expect(Math.abs(soil(x, y)[1] - (ACROSS_M - y))).toBeLessThan(0.009);
    }
  });
});
