import type { SaidValues } from '../faults/said.ts';
import type { Homography } from '../geometry/homography.ts';
import type { Point } from '../geometry/point.ts';
import type { CountInterval } from '../plants/countInterval.ts';
import type { PlantKind } from '../plants/detection.ts';
import type { CameraCues, Reading, Warning } from '../reference/reference.ts';
import type { PhotoFacts } from './photo.ts';

/** One plant as told to the outside: photo pixels of the upright photo, metres on the ground (null without a scale). */
export interface CountedPlant {
  readonly id: string;
  readonly xPx: number;
  readonly yPx: number;
  readonly alongM: number | null;
  readonly acrossM: number | null;
  readonly kind: PlantKind;
  readonly inStretch: boolean;
  readonly confidence: number;
  readonly doubleChance: number;
  readonly alongSdMm: number | null;
}

export interface Spacing {
  readonly n: number;
  readonly meanM: number | null;
  readonly sdM: number | null;
  readonly cv: number | null;
  /** Shares of ISO 7256/1 for the seed spacing given, plain form (of all spacings); null without a seed spacing. */
  readonly multiplesShare: number | null;
  readonly missShare: number | null;
  readonly feedShare: number | null;
  readonly precision: number | null;
  /** The same shares in the seed-position form of ISO 7256/1, which gives other numbers on the same row. */
  readonly seedPositions: {
    readonly multiplesShare: number;
    readonly missShare: number;
    readonly feedShare: number;
  } | null;
}

export interface Gap {
  readonly fromM: number;
  readonly toM: number;
  readonly lengthM: number;
}

export interface Population {
  readonly perAcre: number;
  readonly perHectare: number;
  readonly lowPerAcre: number;
  readonly highPerAcre: number;
  readonly method: string;
}

/** What was known beside the picture when it was counted: enough to work everything out again after a correction. */
export interface CountSetting {
  readonly rowWidthM: number | null;
  readonly seedSpacingM: number | null;
  readonly gapM: number;
  /** In pixels of the upright photo. */
  readonly cues: CameraCues;
}

/** The answer for one photo: the JSON that `rowledger count --json` prints. */
export interface CountResult {
  readonly schema: 'rowledger/count@1';
  readonly photo: {
    readonly file: string;
    readonly sha256: string;
    readonly widthPx: number;
    readonly heightPx: number;
    readonly takenAt: string | null;
    readonly position: PhotoFacts['position'];
  };
  readonly reference: {
    readonly kind: 'tape' | 'rod' | 'frame' | 'cards' | 'marks' | 'scale' | 'none';
    readonly endsPx: readonly [Point, Point] | null;
    readonly endsM: readonly [number, number] | null;
    readonly photoToGround: Homography | null;
    readonly alongErrorMm: number | null;
    readonly reason: string | null;
    /** The reason's name and what it was made of, where it has one. */
    readonly reasonCode?: string;
    readonly reasonValues?: SaidValues;
    readonly cues: readonly string[];
    readonly readings: readonly Reading[];
  };
  readonly stretch: { readonly fromM: number; readonly toM: number; readonly lengthM: number } | null;
  /** Absent in results of early versions. */
  readonly setting?: CountSetting;
  readonly detector: { readonly name: string; readonly version: string };
  readonly plants: readonly CountedPlant[];
  readonly count: CountInterval;
  readonly spacing: Spacing | null;
  readonly gaps: readonly Gap[];
  readonly population: Population | null;
  readonly warnings: readonly Warning[];
  readonly timingsMs: Readonly<Record<string, number>> & { readonly total: number };
}
