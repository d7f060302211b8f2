import type { CameraStand } from '../../geometry/cameraStand.ts';
import { applyHomography, composeHomographies, type Homography } from '../../geometry/homography.ts';
import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import { square } from '../../statistics/square.ts';
import type { FoundReference, Reading } from '../reference.ts';

/**
 * A soil plane told by what hand marks lie on, in their own coordinates: tilt and camera stay, zero, direction and scale are
 * those of the marks. `size` is how long the plane took a marked metre for.
 *
 * @param aboveM how high over the soil the marks lie
 */
export function planeOnMarks(
  { photoToGround, otherPhotoToGround }: Pick<FoundReference, 'photoToGround' | 'otherPhotoToGround'>,
  { alongM, acrossM, heightM }: CameraStand,
  aboveM: number,
  marks: readonly Reading[],
): Pick<FoundReference, 'photoToGround' | 'otherPhotoToGround'> & {
  readonly camera: CameraStand;
  readonly size: number;
} {
  // The plane is the soil's: what lies above it is seen away from the point under the camera.
  const nearer = 1 - aboveM / heightM;
  const places = marks.map(({ xPx, yPx }): Point => {
    const [x, y] = applyHomography(photoToGround, [xPx, yPx]);
    return [alongM + (x - alongM) * nearer, acrossM + (y - acrossM) * nearer];
  });
  const { zero, perMetre } = axisOf(
    places,
    marks.map((r) => r.readingM),
  );
  const size = norm(perMetre[0], perMetre[1]);
  const [c, s] = [perMetre[0] / square(size), perMetre[1] / square(size)];
  const toMarks: Homography = [c, s, -c * zero[0] - s * zero[1], -s, c, s * zero[0] - c * zero[1], 0, 0, 1];
  const [camAlong, camAcross] = applyHomography(toMarks, [alongM, acrossM]);
  return {
    photoToGround: composeHomographies(toMarks, photoToGround),
    otherPhotoToGround: otherPhotoToGround.map((map) => composeHomographies(toMarks, map)),
    camera: { alongM: camAlong, acrossM: camAcross, heightM: heightM / size },
    size,
  };
}

/** Least squares of place = zero + reading x perMetre. */
function axisOf(places: readonly Point[], readings: readonly number[]): { zero: Point; perMetre: Point } {
  const n = places.length;
  const mean = readings.reduce((sum, r) => sum + r, 0) / n;
  const middle = [0, 1].map((k) => places.reduce((sum, p) => sum + p[k]!, 0) / n) as [number, number];
  const spread = readings.reduce((sum, r) => sum + square(r - mean), 0);
  const perMetre = [0, 1].map(
    (k) => places.reduce((sum, p, i) => sum + (readings[i]! - mean) * (p[k]! - middle[k]!), 0) / spread,
  ) as [number, number];
  return { zero: [middle[0] - mean * perMetre[0], middle[1] - mean * perMetre[1]], perMetre };
}
