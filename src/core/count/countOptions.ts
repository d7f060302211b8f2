import type { Vector3 } from '../geometry/point.ts';
import type { ReferenceRequest } from '../reference/reference.ts';

/** What a person says about one photo. Lengths in metres, photo pixels for marks. */
export interface CountOptions {
  readonly reference: ReferenceRequest;
  readonly cameraHeight: { readonly heightM: number; readonly sdM: number; readonly given: boolean };
  /** Unit vector of gravity in camera axes: x right, y down, z into the scene. */
  readonly gravity: Vector3 | null;
  /** Count between these readings; null: the reference from end to end as far as the photo shows it. */
  readonly stretch: { readonly fromM: number; readonly toM: number } | null;
  readonly rowWidthM: number | null;
  readonly seedSpacingM: number | null;
  /** A bare run of row longer than this is a gap. */
  readonly gapM: number;
}

/** Held at chest height, loosely: what people do when nobody says otherwise. Common practice, no source. */
export const LOOSE_CAMERA_HEIGHT = { heightM: 1.5, sdM: 0.25, given: false } as const;

export const DEFAULT_COUNT_OPTIONS: CountOptions = {
  reference: { kind: 'auto' },
  cameraHeight: LOOSE_CAMERA_HEIGHT,
  gravity: null,
  stretch: null,
  rowWidthM: null,
  seedSpacingM: null,
  gapM: 0.3,
};
