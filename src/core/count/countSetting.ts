import type { CountOptions } from './countOptions.ts';
import type { CountSetting } from './countResult.ts';
import { focalPx } from './focalPx.ts';
import type { PhotoWithoutPixels } from './photo.ts';

/** What is known beside the picture, in pixels of the upright photo. */
export function countSetting(photo: PhotoWithoutPixels, options: CountOptions): CountSetting {
  const { rowWidthM, seedSpacingM, gapM, cameraHeight, gravity } = options;
  return {
    rowWidthM,
    seedSpacingM,
    gapM,
    cues: {
      focalPx: focalPx(photo.facts.focal35Mm, photo.widthPx, photo.heightPx),
      heightM: cameraHeight.heightM,
      heightSdM: cameraHeight.sdM,
      heightGiven: cameraHeight.given,
      gravity,
      rowWidthM,
    },
  };
}
