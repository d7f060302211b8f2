import type { DetectorCard } from '../../../src/core/detector/detectorCard.ts';

/** A network's card with round numbers: confidences as they come, 2 mm a pixel. */
export const testCard: DetectorCard = {
  name: 'test',
  file: 'test.onnx',
  sha256: '',
  inputMmPerPx: 2,
  mmPerPx: 2,
  sideMultiple: 32,
  stride: 2,
  floor: 0.1,
  threshold: 0.3,
  suppressMm: 8,
  calibration: [
    [0, 0],
    [1, 1],
  ],
  baseSdMm: 5,
  baseSdMmPerTangent: 8,
};
