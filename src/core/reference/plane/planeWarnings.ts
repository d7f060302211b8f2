import { upInCamera } from '../../geometry/camera.ts';
import { norm } from '../../geometry/norm.ts';
import type { CameraCues, Warning } from '../reference.ts';
import type { SoilPlane } from './planeFromPoses.ts';

/** A hand-held camera over a row is between these heights; common practice, no source. */
const LOWEST_M = 0.4;
const HIGHEST_M = 4;
const STEEPEST_DEG = 80;
/**
 * Where the scale rests on one length as named, nothing else tells that it was named wrong: then a camera this many times its
 * doubt off the usual height is asked about (lower than 1.1 m or higher than 1.9 m by default; straight down arms reach up).
 */
const ASKED_SD = 1.6;
const ASKED_STRAIGHT_SD = 2;

/**
 * Doubts about a plane that a person should hear of: an odd camera height or tilt, cues that disagree, a loose fit.
 *
 * @param byNamedLength whether the scale rests on a length as named, with no marks read between its ends
 */
export function planeWarnings(
  plane: SoilPlane,
  cues: CameraCues,
  errorShare: number,
  byNamedLength = false,
): Warning[] {
  const warnings: Warning[] = [];
  const heightM = plane.camera.position[2];
  const offSd = Math.abs(heightM - cues.heightM) / cues.heightSdM;
  if (cues.heightGiven && offSd > 3) {
    warnings.push({
      code: 'height-contradicts',
      message: `By the scale the camera was ${heightM.toFixed(2)} m above the soil, but ${cues.heightM.toFixed(2)} m was given: check the readings, their unit and the height.`,
    });
  } else if (!cues.heightGiven && (heightM < LOWEST_M || heightM > HIGHEST_M || offSd > 3)) {
    warnings.push({
      code: 'camera-height-odd',
      message: `By the scale the camera was ${heightM.toFixed(2)} m above the soil, which is unusual: check the readings and their unit, or give the camera height.`,
    });
  }
  const straight = plane.poses[0]!.pose.view === 'straight down';
  if (byNamedLength && warnings.length === 0 && offSd > (straight ? ASKED_STRAIGHT_SD : ASKED_SD)) {
    warnings.push({
      code: 'length-odd',
      message: `By the length named the camera was ${heightM.toFixed(2)} m above the soil, ${heightM > cues.heightM ? 'higher' : 'lower'} than usual: check the length, or give the camera height.`,
    });
  }
  const up = upInCamera(plane.camera);
  const tiltDeg = (Math.acos(Math.max(-1, Math.min(1, -up[2]))) * 180) / Math.PI;
  if (tiltDeg > STEEPEST_DEG) {
    warnings.push({
      code: 'camera-tilt-odd',
      message: `The camera looked almost level (${Math.round(tiltDeg)} degrees from straight down): lengths far off are unsure. Hold it higher and look down more.`,
    });
  }
  const { pose } = plane.poses[0]!;
  if (pose.view === 'gravity' && gravityMisfit(plane, cues) > 0.12) {
    warnings.push({
      code: 'gravity-contradicts',
      message: 'The gravity reading does not fit the readings along the reference: the plane beside it is unsure.',
    });
  }
  if (errorShare > 0.02) {
    warnings.push({
      code: 'plane-unsure',
      message: `Beside the reference, lengths may be off by ${(100 * errorShare).toFixed(1)} %: the tilt of the soil is hardly known. Give the camera height, or use two marker cards.`,
    });
  }
  return warnings;
}

/** How far the gravity read and the one of the plane lie apart, as a length of unit vectors' difference. */
function gravityMisfit(plane: SoilPlane, cues: CameraCues): number {
  const g = cues.gravity;
  if (g === null) return 0;
  const [x, y, z] = upInCamera(plane.camera);
  const length = norm(...g);
  return norm(x + g[0] / length, y + g[1] / length, z + g[2] / length);
}
