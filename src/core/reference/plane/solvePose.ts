import type { Camera } from '../../geometry/camera.ts';
import { cholesky } from '../../geometry/cholesky.ts';
import { levenbergMarquardt } from '../../geometry/levenbergMarquardt.ts';
import { norm } from '../../geometry/norm.ts';
import type { Vector3 } from '../../geometry/point.ts';
import type { Pose, View } from './view.ts';

/** What is seen in the photo, for any reference, in parameters of its own choice. */
export interface PoseProblem {
  /** Parameters to start from for a direction of up (camera axes); null where impossible. */
  readonly start: (up: Vector3) => readonly number[] | null;
  readonly cameraAt: (parameters: readonly number[]) => Camera | null;
  /** Misfit of what was seen, in units of its standard deviation. */
  readonly residuals: (parameters: readonly number[], camera: Camera) => readonly number[];
  /** Finite-difference steps of the parameters. */
  readonly steps: readonly number[];
}

/** So many of the best starts are followed to their minimum. */
const FOLLOWED = 3;
const IMPOSSIBLE = [Number.NaN];

/**
 * Every distinct camera that fits what was seen under one view: least squares from several directions of up (a line
 * alone can be seen from either side of it, a small card can lean two ways).
 */
export function solvePose(problem: PoseProblem, view: View): Pose[] {
  const residuals = (p: readonly number[]): readonly number[] => {
    const camera = problem.cameraAt(p);
    return camera === null ? IMPOSSIBLE : problem.residuals(p, camera).concat(view.residuals(camera));
  };
  const starts = view.starts
    .flatMap((up) => {
      const parameters = problem.start(up);
      if (parameters === null) return [];
      return [{ parameters, cost: residuals(parameters).reduce((sum, v) => sum + v * v, 0) }];
    })
    .filter((start) => Number.isFinite(start.cost))
    .sort((a, b) => a.cost - b.cost);
  const poses: Pose[] = [];
  for (const start of starts.slice(0, FOLLOWED)) {
    const fit = levenbergMarquardt(residuals, start.parameters, problem.steps, 40, 1e-4);
    const camera = problem.cameraAt(fit.parameters);
    const factor = fit.covariance === null ? null : cholesky(fit.covariance);
    if (camera === null || fit.covariance === null || factor === null) continue;
    if (poses.some((pose) => samePlace(pose.camera, camera))) continue;
    const logDet = factor.reduce((sum, row, i) => sum + Math.log(row[i]!), 0);
    poses.push({
      view: view.name,
      camera,
      cameraAt: problem.cameraAt,
      parameters: fit.parameters,
      covariance: fit.covariance,
      cost: fit.cost,
      logEvidence: view.logWeight - fit.cost / 2 + logDet,
    });
  }
  return poses;
}

function samePlace(a: Camera, b: Camera): boolean {
  const [[ax, ay, az], [bx, by, bz]] = [a.position, b.position];
  return norm(ax - bx, ay - by, az - bz) < 0.05 * a.position[2];
}
