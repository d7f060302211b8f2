import type { Camera } from '../../geometry/camera.ts';
import type { Vector3 } from '../../geometry/point.ts';

/**
 * One way in which the camera may have been held, as prior knowledge for the fit. Residuals are in units of their
 * standard deviation; `logWeight` is the log of how common the view is, less the logs of the standard deviations of
 * its residuals, so that views can be weighed against each other.
 */
export interface View {
  readonly name: string;
  readonly residuals: (camera: Camera) => readonly number[];
  readonly logWeight: number;
  /** Directions of up, in camera axes, to start the fit from. */
  readonly starts: readonly Vector3[];
}

/** One place where the camera may have been, with its doubt. */
export interface Pose {
  readonly view: string;
  readonly camera: Camera;
  readonly cameraAt: (parameters: readonly number[]) => Camera | null;
  readonly parameters: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  readonly cost: number;
  /** Log of the probability of the view and the data together, up to a constant (Laplace's approximation). */
  readonly logEvidence: number;
}
