import { describe, expect, it } from 'vitest';
import { projectPoint } from '../../../src/core/geometry/camera.ts';
import { applyHomography } from '../../../src/core/geometry/homography.ts';
import { findReference } from '../../../src/core/reference/findReference.ts';
import type { CameraCues, Reading } from '../../../src/core/reference/reference.ts';
import { groundPicture, lookingAt } from '../../support/groundScene.ts';

const SIZE = { widthPx: 480, heightPx: 320, focalPx: 380 };
const camera = lookingAt([1.0, -1.4, 1.5], [1, 0, 0], SIZE);
const bare = groundPicture(camera, SIZE.widthPx, SIZE.heightPx, () => null);
const cues: CameraCues = {
  focalPx: SIZE.focalPx,
  heightM: 1.5,
  heightSdM: 0.05,
  heightGiven: true,
  gravity: null,
  rowWidthM: null,
};
const mark = (readingM: number): Reading => {
  const [xPx, yPx] = projectPoint(camera, [readingM, 0, 0]);
  return { xPx, yPx, readingM };
};

describe('findReference', () => {
  it('says what it looked for and what to do where nothing lies in the photo', () => {
    const found = findReference(bare, { kind: 'auto' }, cues);
    expect(found.kind).toBe('none');
    if (found.kind === 'none') expect(found.reason).toMatch(/marker cards.*tape.*named with its size/s);
  });

  it.each([
    { kind: 'cards' },
    { kind: 'frame', alongM: 1, acrossM: 0.5 },
    { kind: 'tape', graduations: 'in' },
    { kind: 'rod', lengthM: 1.8 },
  ] as const)('never makes a scale of bare soil: $kind', (request) => {
    const found = findReference(bare, request, cues);
    expect(found.kind).toBe('none');
    if (found.kind === 'none') expect(found.reason.length).toBeGreaterThan(20);
  });

  it('takes hand marks instead of looking', () => {
    const found = findReference(
      bare,
      { kind: 'marks', marks: [mark(0), mark(0.5), mark(1), mark(1.5), mark(2)] },
      cues,
    );
    if (found.kind === 'none') throw new Error(found.reason);
    expect(found.kind).toBe('marks');
    const [a, c] = applyHomography(found.photoToGround, projectPoint(camera, [0.4, 0.12, 0]));
    expect(Math.abs(a - 0.4)).toBeLessThan(0.02);
    expect(Math.abs(c - 0.12)).toBeLessThan(0.02);
  });

  it('takes a known scale without a camera', () => {
    const found = findReference(bare, { kind: 'scale', mmPerPx: 2 }, cues);
    expect(found).toMatchObject({ kind: 'scale', camera: null });
  });
});
