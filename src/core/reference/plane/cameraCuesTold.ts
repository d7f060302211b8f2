import type { CameraCues } from '../reference.ts';

/** What was known of the camera besides a reference that fixes the plane by itself, in words. */
export function cameraCuesTold(cues: CameraCues, reference: 'cards' | 'frame'): readonly string[] {
  return [
    ...(cues.gravity === null ? [] : ['gravity as the phone recorded it']),
    ...(cues.heightGiven ? [`camera height given, ${cues.heightM.toFixed(2)} m`] : []),
    cues.focalPx === null ? `focal length estimated from the ${reference}` : 'focal length from the file',
  ];
}
