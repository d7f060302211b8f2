import type { CameraCues } from '../../src/core/reference/reference.ts';

/** What is known of a camera held as usual, with its focal length from the file and nothing else given. */
export const usualCues = (focalPx: number): CameraCues => ({
  focalPx,
  heightM: 1.5,
  heightSdM: 0.25,
  heightGiven: false,
  gravity: null,
  rowWidthM: null,
});
