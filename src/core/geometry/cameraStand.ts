/**
 * Where the camera stood, in ground coordinates: metres along the reference, across it (to its left), and above
 * the soil. Leaves at height z are seen displaced away from the point below the camera, by z / (heightM - z) of
 * their distance from it.
 */
export interface CameraStand {
  readonly alongM: number;
  readonly acrossM: number;
  readonly heightM: number;
}
