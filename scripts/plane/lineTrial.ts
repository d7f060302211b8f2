import { type Camera, projectPoint, upInCamera } from '../../src/core/geometry/camera.ts';
import { applyHomography } from '../../src/core/geometry/homography.ts';
import type { Point, Vector3 } from '../../src/core/geometry/point.ts';
import { add, times, turned, unit } from '../../src/core/geometry/vector.ts';
import { RESTING_HEIGHT } from '../../src/core/reference/plane/restingHeight.ts';
import { solvePlane } from '../../src/core/reference/plane/solvePlane.ts';
import type { CameraCues, FoundLine, FoundReference } from '../../src/core/reference/reference.ts';
import type { Random } from '../scenes/random.ts';
import { HEIGHT_PX, WIDTH_PX } from './randomCamera.ts';

export type CueName = 'none' | 'height' | 'gravity' | 'row';

export interface Trial {
  /** Worst error along the row of a point within 15 cm of the reference, share of the stretch. */
  readonly worstShare: number;
  /** Error of the stretch's length 15 cm beside the reference, each side, over what was said (1 sd). */
  readonly overSaid: readonly number[];
  readonly saidShare: number;
}

export const inPhoto = ([x, y]: Point): boolean => x > 4 && y > 4 && x < WIDTH_PX - 5 && y < HEIGHT_PX - 5;

/** Cues as they come: a focal length 1.5 % off, a height 5 cm off, gravity and field slope 1.5 degrees off each. */
export function noisyCues(
  camera: Camera,
  cue: CueName,
  focalKnown: boolean,
  noise: number,
  random: Random,
): CameraCues {
  const error: Vector3 = [random.normal(0, 0.037), random.normal(0, 0.037), random.normal(0, 0.037)];
  const down = times(upInCamera(camera), -1);
  return {
    focalPx: focalKnown ? camera.focalPx * (1 + noise * random.normal(0, 0.015)) : null,
    heightM: cue === 'height' ? camera.position[2] + noise * random.normal(0, 0.05) : 1.5,
    heightSdM: cue === 'height' ? 0.05 : 0.25,
    heightGiven: cue === 'height',
    gravity: cue === 'gravity' ? unit(turned(down, times(error, noise))) : null,
    rowWidthM: null,
  };
}

export function lineSeen(
  camera: Camera,
  lengthM: number,
  stepM: number,
  noise: number,
  random: Random,
): FoundLine | null {
  const readings: FoundLine['readings'][number][] = [];
  const kind = stepM === lengthM ? 'rod' : 'tape';
  const resting = RESTING_HEIGHT[kind];
  const heightM = resting.heightM + noise * random.normal(0, resting.sdM);
  for (let k = 0; k * stepM <= lengthM + 1e-9; k++) {
    const [x, y] = projectPoint(camera, [k * stepM, 0, kind === 'rod' ? heightM + ROD_M / 2 : heightM]);
    if (!inPhoto([x, y])) continue;
    const sdPx = 0.7;
    readings.push({
      xPx: x + noise * random.normal(0, sdPx),
      yPx: y + noise * random.normal(0, sdPx),
      readingM: k * stepM,
      sdPx,
    });
  }
  const [first, last] = [readings[0], readings[readings.length - 1]];
  if (first === undefined || last === undefined || last.readingM - first.readingM < 0.5 * lengthM) return null;
  return {
    kind,
    byEnds: kind === 'rod',
    readings,
    endsPx: [
      [first.xPx, first.yPx],
      [last.xPx, last.yPx],
    ],
    endsM: [first.readingM, last.readingM],
    endsSeen: [true, true],
    widths: widthsSeen(camera, lengthM, noise, random),
    lengthErrorMm: 0,
    coveredPx: [],
    warnings: [],
  };
}

/** The row lies so far off the mean soil (1 sd): pressed down or ridged up. */
const ROW_LEVEL_SD_M = 0.005;
/** Thickness of the rod that two readings stand for; its ends are rounded. */
const ROD_M = 0.025;

/** Width of the rod at nine places, to half a pixel. */
function widthsSeen(camera: Camera, lengthM: number, noise: number, random: Random): FoundLine['widths'] {
  return Array.from({ length: 9 }, (_, i) => {
    const readingM = (lengthM * i) / 8;
    const away = Math.hypot(camera.position[0] - readingM, camera.position[1], camera.position[2]);
    const [x, y] = projectPoint(camera, [readingM, 0, 0]);
    // A cylinder looks as wide as its angle; a flat picture stretches angles off its middle.
    const stretch = Math.hypot(x - camera.middlePx[0], y - camera.middlePx[1], camera.focalPx) / camera.focalPx;
    return { readingM, widthPx: ((ROD_M * camera.focalPx) / away) * stretch + noise * random.normal(0, 0.5) };
  });
}

export function lineTrial(
  camera: Camera,
  lengthM: number,
  stepM: number,
  cue: CueName,
  focalKnown: boolean,
  noise: number,
  random: Random,
): Trial | null {
  const line = lineSeen(camera, lengthM, stepM, noise, random);
  if (line === null) return null;
  const cues = noisyCues(camera, cue, focalKnown, noise, random);
  const rowM = 0.76 * random.pick([1, -1]);
  const row = (along: number): Point => {
    const [x, y] = projectPoint(camera, [along, rowM + noise * random.normal(0, 0.02), 0]);
    return [x, y];
  };
  const parallelLines =
    cue === 'row' ? [{ linePx: [row(0), row(lengthM)] as const, acrossM: rowM, acrossSdM: 0.02 }] : [];
  const found = solvePlane(line, cues, { widthPx: WIDTH_PX, heightPx: HEIGHT_PX, parallelLines });
  if (found.kind === 'none') return { worstShare: 1, overSaid: [99], saidShare: 0 };
  const levelM = noise * random.normal(0, ROW_LEVEL_SD_M);
  return judge(found, camera, (m) => [m, 0, levelM]);
}

/** How far off points within 15 cm of the reference are placed along it. */
export function judge(
  found: FoundReference,
  camera: Camera,
  trueAlong = (m: number): Vector3 => [m, 0, 0],
  left: Vector3 = [0, 1, 0],
): Trial {
  const [fromM, toM] = found.endsM;
  let worst = 0;
  const overSaid: number[] = [];
  for (const side of [-0.15, -0.07, 0, 0.07, 0.15]) {
    const errors: number[] = [];
    for (let i = 0; i <= 8; i++) {
      const along = fromM + ((toM - fromM) * i) / 8;
      const pixel = projectPoint(camera, add(trueAlong(along), times(left, side)));
      const error = applyHomography(found.photoToGround, pixel)[0] - along;
      worst = Math.max(worst, Math.abs(error));
      errors.push(error);
    }
    const length = errors[8]! - errors[0]!;
    if (Math.abs(side) > 0.1) overSaid.push((1000 * length) / found.alongErrorMm);
  }
  const length = toM - fromM;
  return { worstShare: worst / length, overSaid, saidShare: found.alongErrorMm / 1000 / length };
}
