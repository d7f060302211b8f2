import { type Camera, groundToPhoto, photoToGround } from '../../geometry/camera.ts';
import { applyHomography, type Homography } from '../../geometry/homography.ts';
import { norm } from '../../geometry/norm.ts';
import { sigmaPoints } from '../../geometry/sigmaPoints.ts';
import { square } from '../../statistics/square.ts';
import type { FoundReference } from '../reference.ts';
import type { Height } from './restingHeight.ts';
import type { Pose } from './view.ts';

export interface SoilPlane {
  readonly photoToGround: Homography;
  readonly otherPhotoToGround: readonly Homography[];
  readonly camera: Camera;
  readonly stand: NonNullable<FoundReference['camera']>;
  /** The poses that are at all likely with their probabilities, best first. */
  readonly poses: readonly { readonly pose: Pose; readonly share: number }[];
}

/** A pose less likely than this is left out. */
const LEAST_SHARE = 0.1;
/** A more likely pose's samples are repeated so often, at most. */
const MOST_REPEATS = 4;

/**
 * The best plane and equally likely others, from all poses that fit: the best is the most probable pose (in trials, a
 * mean of two possible ones was seldom right and hardly nearer); the others are the sigma points of each pose with a
 * real chance, repeated by its probability.
 *
 * @param above how far the reference lies above the soil: the poses are over the reference, the plane is the soil's. Its
 * doubt goes into the other planes as one more unknown.
 */
export function planeFromPoses(poses: readonly Pose[], above: Height): SoilPlane | null {
  if (poses.length === 0) return null;
  const top = Math.max(...poses.map((pose) => pose.logEvidence));
  const total = poses.reduce((sum, pose) => sum + Math.exp(pose.logEvidence - top), 0);
  const likely = poses
    .map((pose) => ({ pose, share: Math.exp(pose.logEvidence - top) / total }))
    .filter(({ share }, _, all) => share >= Math.min(LEAST_SHARE, Math.max(...all.map((p) => p.share))))
    .sort((a, b) => b.share - a.share);
  const best = raised(likely[0]!.pose.camera, above.heightM);
  const least = likely[likely.length - 1]!.share;
  const others = likely.flatMap(({ pose, share }) => {
    const maps = sigmaPoints(...withHeight(pose, above)).flatMap((p) => {
      const camera = pose.cameraAt(p);
      return camera === null ? [] : usable(raised(camera, p[p.length - 1]!));
    });
    const repeats = Math.min(MOST_REPEATS, Math.max(1, Math.round(share / least)));
    return Array.from({ length: repeats }, () => maps).flat();
  });
  const [alongM, acrossM, heightM] = best.position;
  return {
    photoToGround: photoToGround(best),
    otherPhotoToGround: others,
    camera: best,
    stand: { alongM, acrossM, heightM },
    poses: likely,
  };
}

/** Mean and covariance of a pose's parameters and, independent of them, the height of the reference. */
function withHeight({ parameters, covariance }: Pose, { heightM, sdM }: Height): [number[], number[][]] {
  return [
    [...parameters, heightM],
    [...covariance.map((row) => [...row, 0]), [...parameters.map(() => 0), square(sdM)]],
  ];
}

function raised(camera: Camera, byM: number): Camera {
  const [along, across, height] = camera.position;
  return { ...camera, position: [along, across, height + byM] };
}

function usable(camera: Camera): Homography[] {
  try {
    const map = photoToGround(camera);
    return map.every(Number.isFinite) ? [map] : [];
  } catch {
    return [];
  }
}

/** The row, pressed down or ridged up, lies this far off the mean soil (1 sd), metres. Common practice, no source. */
const ROW_LEVEL_SD_M = 0.005;
/** Plants stand about this far beside the reference, metres. */
const BESIDE_M = 0.15;

/**
 * Expected error (1 sd), millimetres, along the row for points 15 cm to either side of the reference: the worst of the
 * length of the stretch and the places of its ends and middle, over the equally likely planes; and what the
 * row's own level adds to the length, seen from the camera's height.
 */
export function alongErrorMm(camera: Camera, others: readonly Homography[], fromM: number, toM: number): number {
  const toPhoto = groundToPhoto(camera);
  let worst = 0;
  for (const side of [-BESIDE_M, BESIDE_M]) {
    const errorsAt = (along: number) => {
      const pixel = applyHomography(toPhoto, [along, side]);
      return others.map((map) => applyHomography(map, pixel)[0] - along);
    };
    const [start, middle, end] = [errorsAt(fromM), errorsAt((fromM + toM) / 2), errorsAt(toM)];
    const length = end.map((e, i) => e - start[i]!);
    for (const errors of [start, middle, end, length]) worst = Math.max(worst, rootMeanSquare(errors));
  }
  const level = (ROW_LEVEL_SD_M / camera.position[2]) * Math.abs(toM - fromM);
  return 1000 * norm(worst, level);
}

function rootMeanSquare(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / Math.max(1, values.length));
}
