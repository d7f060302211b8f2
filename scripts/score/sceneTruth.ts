import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Homography } from '../../src/core/geometry/homography.ts';

/** What the generator knows of a rendered scene (`NAME.truth.json`). */
export interface SceneTruth {
  readonly image: string;
  readonly holdOut?: boolean;
  readonly tags: Readonly<Record<string, string | boolean>>;
  readonly countArgs: readonly string[];
  readonly photoToGround: Homography;
  readonly reference: {
    readonly kind: string;
    /** Half the thickness of a round rod, metres. */
    readonly radiusM?: number;
    readonly endsPx: readonly (readonly [number, number])[];
    readonly endsM: readonly number[];
    readonly readings?: readonly { xPx: number; yPx: number; readingM: number; alongM: number; heightM: number }[];
    readonly corners?: readonly { readonly px: readonly (readonly [number, number])[] }[];
  };
  readonly stretch: { readonly fromM: number; readonly toM: number };
  readonly camera: { readonly positionGroundM: readonly [number, number, number] };
  readonly rowWidthM: number | null;
  readonly seedSpacingM?: number;
  readonly plants: readonly {
    readonly alongM: number;
    readonly acrossM: number;
    readonly xPx: number;
    readonly yPx: number;
    readonly kind: 'plant' | 'weed' | 'neighbour';
    readonly stage: string;
    readonly inStretch: boolean;
  }[];
  readonly gaps30cm: readonly { readonly fromM: number; readonly toM: number }[];
}

export interface Scene {
  readonly path: string;
  readonly truth: SceneTruth;
}

/** All scenes with truth in a folder, by name. */
export function scenesIn(folder: string): Scene[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.truth.json'))
    .sort()
    .map((name) => {
      const truth = JSON.parse(readFileSync(join(folder, name), 'utf8')) as SceneTruth;
      return { path: join(folder, truth.image), truth };
    });
}
