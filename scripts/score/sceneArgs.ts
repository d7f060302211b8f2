import { applyHomography, invertHomography } from '../../src/core/geometry/homography.ts';
import type { Scene, SceneTruth } from './sceneTruth.ts';

/** A person marks the first and the last reading in view and a few between. */
const MARKS = 7;

/** The arguments that count a scene; with `marks` some of its true readings stand in for the search. */
export function sceneArgs({ path, truth }: Scene, marks: boolean): string[] {
  const given = [...truth.countArgs];
  const readings = truth.reference.readings ?? [];
  if (marks && readings.length >= 2) {
    const at = given.indexOf('--reference');
    if (at >= 0) given.splice(at, 2);
    const many = Math.min(MARKS, readings.length);
    for (let i = 0; i < many; i++) {
      const k = Math.round((i * (readings.length - 1)) / (many - 1));
      const [x, y] = seenAt(truth, k);
      given.push('--mark', `${x.toFixed(2)},${y.toFixed(2)}=${readings[k]!.readingM}m`);
    }
  }
  return [path, ...given];
}

/**
 * Where a person sees a reading. Truth gives those of a rod in its middle; borders of bands are seen on the side of it that
 * is turned to the camera, its rounded ends in the middle.
 */
function seenAt({ reference, photoToGround, camera }: SceneTruth, k: number): readonly [number, number] {
  const { xPx, yPx, readingM, alongM, heightM } = reference.readings![k]!;
  if (reference.radiusM === undefined || reference.endsM.includes(readingM)) return [xPx, yPx];
  const [cx, cy, cz] = camera.positionGroundM;
  const away = Math.sqrt(cy * cy + (cz - heightM) ** 2);
  const [y, z] = [(reference.radiusM * cy) / away, heightM + (reference.radiusM * (cz - heightM)) / away];
  // the place on the soil that the border hides from the camera
  const t = cz / (cz - z);
  return applyHomography(invertHomography(photoToGround), [cx + (alongM - cx) * t, cy + (y - cy) * t]);
}
