import { projectPoint } from '../../geometry/camera.ts';
import { exponential } from '../../geometry/exponential.ts';
import type { Point } from '../../geometry/point.ts';
import { cameraOfLine, lineViewFor } from '../plane/lineCamera.ts';
import type { PoseProblem } from '../plane/solvePose.ts';

/** The inside edge of a bar is about half its width above the soil; give or take so much of it (1 sd). */
const LIFT_SHARE_SD = 0.4;

/** The inside of a rectangle; across is less than 0 where it lies to the right of along. */
export interface FrameSize {
  readonly alongM: number;
  readonly acrossM: number;
  /** False where nobody named the size across: it is only where to start from. */
  readonly acrossKnown: boolean;
}

/**
 * The camera over a rigid rectangle. `corners` are photo pixels of (0, 0), (along, 0), (along, across), (0, across); they
 * lie `liftM` above the soil. Parameters: those of LineView for the side across = 0, log focal length, lift; and where the
 * size across is not known, the log of what it is times its start.
 */
export function frameProblem(
  corners: readonly [Point, Point, Point, Point],
  { alongM, acrossM, acrossKnown }: FrameSize,
  liftM: number,
  sdPx: number,
  focalPx: number,
  middlePx: Point,
): PoseProblem {
  const groundOf = (p: readonly number[]): readonly Point[] => {
    const across = acrossKnown ? acrossM : acrossM * exponential(p[8]!);
    return [
      [0, 0],
      [alongM, 0],
      [alongM, across],
      [0, across],
    ];
  };
  const [a, b] = corners;
  const onFrame = (p: readonly number[]) =>
    cameraOfLine(
      {
        firstPx: [p[0]!, p[1]!],
        lastPx: [p[2]!, p[3]!],
        vanish: p[4]!,
        turn: p[5]!,
        focalPx: focalPx * exponential(p[6]!),
      },
      0,
      alongM,
      middlePx,
    );
  return {
    start: (up) => {
      const view = lineViewFor(up, a, b, null, focalPx, middlePx);
      return view === null ? null : [...a, ...b, view.vanish, view.turn, 0, liftM, ...(acrossKnown ? [] : [0])];
    },
    // The camera over the soil: the frame's plane lies higher by the lift.
    cameraAt: (p) => {
      const camera = onFrame(p);
      if (camera === null) return null;
      const [x, y, z] = camera.position;
      return { ...camera, position: [x, y, z + p[7]!] };
    },
    residuals: (p, camera) => [
      ...groundOf(p).flatMap(([x, y], k) => {
        const [u, v] = projectPoint(camera, [x, y, p[7]!]);
        return [(u - corners[k]![0]) / sdPx, (v - corners[k]![1]) / sdPx];
      }),
      (p[7]! - liftM) / Math.max(1e-4, LIFT_SHARE_SD * liftM),
    ],
    steps: [1e-3, 1e-3, 1e-3, 1e-3, 1e-6, 1e-6, 1e-6, 1e-6, ...(acrossKnown ? [] : [1e-6])],
  };
}
