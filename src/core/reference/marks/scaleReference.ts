import type { Homography } from '../../geometry/homography.ts';
import type { FoundReference, NoReference } from '../reference.ts';

/** A scale for a fixed height is off by this much: soil relief, a camera not quite level. Common practice, no source. */
const SCALE_SD = 0.01;
/** Scales beyond these are typing errors: a hand-held or pole camera sees 0.05 to 5 mm of soil per pixel. */
const FINEST_MM = 0.02;
const COARSEST_MM = 20;

/**
 * A straight-down photo of known scale: along runs to the right from the middle of the left side, across runs up the
 * picture.
 */
export function scaleReference(mmPerPx: number, widthPx: number, heightPx: number): FoundReference | NoReference {
  if (!(mmPerPx >= FINEST_MM && mmPerPx <= COARSEST_MM)) {
    return {
      kind: 'none',
      reason: `A scale of ${mmPerPx} mm per pixel is none of a photo of a row (${FINEST_MM} to ${COARSEST_MM}): measure a known length in a photo from the same height.`,
      warnings: [],
    };
  }
  const k = mmPerPx / 1000;
  const middle = (heightPx - 1) / 2;
  const map = (by: number): Homography => [k * by, 0, 0, 0, -k * by, k * by * middle, 0, 0, 1];
  const lengthM = (widthPx - 1) * k;
  return {
    kind: 'scale',
    endsPx: [
      [0, middle],
      [widthPx - 1, middle],
    ],
    endsM: [0, lengthM],
    photoToGround: map(1),
    otherPhotoToGround: [map(1 - SCALE_SD), map(1 + SCALE_SD)],
    alongErrorMm: 1000 * SCALE_SD * lengthM,
    camera: null,
    readings: [],
    cues: [`scale given, ${mmPerPx} mm per pixel`],
    coveredPx: [],
    warnings: [],
  };
}
