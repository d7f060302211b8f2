import type { CountResult } from '../count/countResult.ts';
import { applyHomography, type Homography, invertHomography } from '../geometry/homography.ts';
import type { CorrectedPlant } from './correctedPlant.ts';

/** How the pixels of a photo lie on the soil; nulls where no scale is known. */
export interface Ground {
  readonly toGround: Homography | null;
  readonly toPhoto: Homography | null;
  readonly widthPx: number;
  /** Where the row runs, metres across: for a plant of which only its reading is told. */
  readonly rowAcrossM: number;
}

export function groundOf({ reference, plants, photo }: CountResult): Ground {
  const toGround = reference.photoToGround;
  const across = plants
    .flatMap(({ kind, acrossM }) => (kind === 'plant' && typeof acrossM === 'number' ? [acrossM] : []))
    .sort((a, b) => a - b);
  return {
    toGround,
    toPhoto: toGround === null ? null : invertHomography(toGround),
    widthPx: photo.widthPx,
    rowAcrossM: across[across.length >> 1] ?? 0,
  };
}

/** The plant where its pixel lies on this ground, and whether that is in the stretch. */
export function placed(
  plant: CorrectedPlant,
  toGround: Homography | null,
  stretch: CountResult['stretch'],
): CorrectedPlant {
  const [alongM, acrossM] =
    toGround === null ? [plant.alongM, plant.acrossM] : applyHomography(toGround, [plant.xPx, plant.yPx]);
  // Without a scale there is no stretch: all that is seen is listed.
  const inStretch = stretch === null || alongM === null || (alongM >= stretch.fromM && alongM <= stretch.toM);
  return { ...plant, alongM, acrossM, inStretch };
}
