import type { Point } from '../geometry/point.ts';

export type PlantKind = 'plant' | 'weed' | 'unsure';

/**
 * One thing found in a strip by a machine. Never changed afterwards: corrections are records of their own.
 * Points are in strip pixels.
 */
export interface Detection {
  /** Stable within one analysis: ordered along the row. */
  readonly id: string;
  /** Where the stem meets the soil, or the best estimate of it. */
  readonly baseStripPx: Point;
  /** The most visible middle of the plant, where the petioles meet. */
  readonly crownStripPx: Point;
  readonly kind: PlantKind;
  /** Chance that this is exactly one emerged crop plant, 0 to 1. */
  readonly confidence: number;
  /** Chance that two or more crop plants stand under this one mark, 0 to 1. */
  readonly doubleChance: number;
  /** Leaf area seen, in square millimetres on the ground plane. */
  readonly leafAreaMm2: number;
  /** Bounding box of its leaves in strip pixels: left, top, right, bottom. */
  readonly boxStripPx: readonly [number, number, number, number];
  /** Standard deviation of the base's place along the row, in millimetres. */
  readonly alongSdMm: number;
}

/** What a detector needs to know beside the strip. */
export interface PlantSearch {
  /** Areas of the strip (polygons in strip pixels) covered by the reference itself: nothing there is a plant. */
  readonly coveredStripPx: readonly (readonly Point[])[];
  /** Where the row is expected, metres across; null when it has to be found near the reference. */
  readonly rowAcrossM: number | null;
  /** Known distance between rows, metres; helps to leave neighbour rows out. */
  readonly rowWidthM: number | null;
  /** The planter's theoretical in-row spacing, metres. */
  readonly seedSpacingM: number | null;
  /** False where the scale is claimed or guessed, not read off a reference in the photo. Absent: known. */
  readonly scaleKnown?: boolean;
}

/** What a detector answers. */
export interface PlantFindings {
  readonly detections: readonly Detection[];
  /** The row line: across = acrossAtZeroM + slope x along. Null when no row could be found, with the reason. */
  readonly rowLine: { readonly acrossAtZeroM: number; readonly slope: number; readonly sdM: number } | null;
  readonly warnings: readonly { readonly code: string; readonly message: string }[];
}
