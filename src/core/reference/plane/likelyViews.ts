import { type Camera, upInCamera } from '../../geometry/camera.ts';
import { norm } from '../../geometry/norm.ts';
import type { Point, Vector3 } from '../../geometry/point.ts';
import { cross, dot, unit } from '../../geometry/vector.ts';
import type { CameraCues } from '../reference.ts';
import { upFor } from './upFor.ts';
import type { View } from './view.ts';

/**
 * How people hold a camera over a row. Common practice, no source: a picture straight down is within about 5 degrees
 * of it; an oblique one has its sides level within about 3 degrees and is tilted by 49 degrees, give or take 16.
 */
const STRAIGHT_SD = 0.09;
const LEVEL_SD = 0.05;
const TILT = 0.85;
const TILT_SD = 0.28;
/** A phone's gravity reading (1.5 degrees) and the fall of a field (1.5 degrees) together. */
const GRAVITY_SD = 0.037;
/** A 35 mm equivalent is rounded to whole millimetres; a stabilised picture is cropped a little more. */
const FOCAL_SD = 0.02;
/** Main cameras of phones: 24 to 30 mm equivalent. */
const USUAL_FOCAL_35 = 26;
const USUAL_FOCAL_SD = 0.12;

const UPRIGHT: readonly { name: string; towards: Point; share: number }[] = [
  { name: 'oblique', towards: [0, -1], share: 0.26 },
  { name: 'oblique, picture on its left side', towards: [1, 0], share: 0.015 },
  { name: 'oblique, picture on its right side', towards: [-1, 0], share: 0.015 },
  { name: 'oblique, picture upside down', towards: [0, 1], share: 0.01 },
];
const STRAIGHT_SHARE = 0.7;
/** Straight down, arms reach out or up: the unasked-for height is looser still, metres. */
const STRAIGHT_HEIGHT_SD_M = 0.3;

/** Focal length to start from, pixels: the file's, else that of a usual phone. */
export function likelyFocalPx(cues: CameraCues, widthPx: number, heightPx: number): number {
  return cues.focalPx ?? (USUAL_FOCAL_35 / norm(36, 24)) * norm(widthPx, heightPx);
}

/**
 * The ways in which the camera may have been held, given the cues. With a gravity reading there is one; without, a
 * few with their shares. `held` false leaves out how people hold cameras (for references that tell the tilt alone).
 */
export function likelyViews(cues: CameraCues, widthPx: number, heightPx: number, held: boolean): View[] {
  const focalPx = likelyFocalPx(cues, widthPx, heightPx);
  const focalSd = cues.focalPx === null ? USUAL_FOCAL_SD : FOCAL_SD;
  const straightHeightSdM = cues.heightGiven ? cues.heightSdM : Math.max(cues.heightSdM, STRAIGHT_HEIGHT_SD_M);
  const common = (camera: Camera, heightSdM = cues.heightSdM): number[] => {
    const focal = Math.log(camera.focalPx / focalPx) / focalSd;
    const height = (camera.position[2] - cues.heightM) / heightSdM;
    // A default height says little beside a reference that tells its own; a given one is a measurement.
    return held || cues.heightGiven ? [focal, height] : [focal];
  };
  if (cues.gravity !== null) {
    const up = unit([-cues.gravity[0], -cues.gravity[1], -cues.gravity[2]]);
    return [
      {
        name: 'gravity',
        residuals: (camera) => [...common(camera), ...apart(upInCamera(camera), up, GRAVITY_SD)],
        logWeight: 0,
        starts: [up],
      },
    ];
  }
  if (!held) return [{ name: 'free', residuals: common, logWeight: 0, starts: allAround() }];
  const straight: View = {
    name: 'straight down',
    residuals: (camera) => {
      const up = upInCamera(camera);
      return [...common(camera, straightHeightSdM), up[0] / STRAIGHT_SD, up[1] / STRAIGHT_SD];
    },
    logWeight: Math.log(STRAIGHT_SHARE) - 2 * Math.log(STRAIGHT_SD) - Math.log(straightHeightSdM / cues.heightSdM),
    starts: [upFor(0, [0, -1]), upFor(5, [0, -1]), upFor(5, [0, 1])],
  };
  return [straight, ...UPRIGHT.map(({ name, towards, share }) => oblique(name, towards, share, common))];
}

function oblique(name: string, towards: Point, share: number, common: (camera: Camera) => readonly number[]): View {
  return {
    name,
    residuals: (camera) => {
      const up = upInCamera(camera);
      const rise = up[0] * towards[0] + up[1] * towards[1];
      const aside = up[0] * towards[1] - up[1] * towards[0];
      return [...common(camera), aside / LEVEL_SD, (Math.atan2(rise, -up[2]) - TILT) / TILT_SD];
    },
    logWeight: Math.log(share) - Math.log(LEVEL_SD) - Math.log(TILT_SD),
    starts: [5, 15, 25, 35, 45, 55, 65, 75].map((deg) => upFor(deg, towards)),
  };
}

function allAround(): Vector3[] {
  return [0, 1, 2, 3, 4, 5, 6, 7].flatMap((k) => {
    const towards: Point = [Math.cos((k * Math.PI) / 4), Math.sin((k * Math.PI) / 4)];
    return [5, 25, 45, 62, 75].map((deg) => upFor(deg, towards));
  });
}

/** The two components of the turn between two directions, over its doubt. */
function apart(a: Vector3, b: Vector3, sd: number): [number, number] {
  const first = unit(cross(b, Math.abs(b[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0]));
  const second = cross(b, first);
  // Opposite directions must not look alike: the chord, not the sine.
  const stretch = Math.sqrt(2 / Math.max(1e-6, 1 + dot(a, b)));
  return [(dot(a, first) * stretch) / sd, (dot(a, second) * stretch) / sd];
}
