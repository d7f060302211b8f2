import { applyHomography } from '../geometry/homography.ts';
import { countInterval } from '../plants/countInterval.ts';
import type { Detection } from '../plants/detection.ts';
import type { Strip } from '../straighten/strip.ts';
import { stripToGround } from '../straighten/stripGround.ts';
import type { CountedPlant, CountResult } from './countResult.ts';
import { measureRow } from './measureRow.ts';
import { rasterToPhoto } from './rasterToPhoto.ts';

/** What a strip's marks are counted with. Lengths in metres, the error along the reference in millimetres. */
export interface StripSetting {
  readonly strip: Strip;
  readonly stretch: { readonly fromM: number; readonly toM: number };
  readonly photoPxPerRasterPx: number;
  readonly rowWidthM: number | null;
  readonly seedSpacingM: number | null;
  readonly gapM: number;
  readonly alongErrorMm: number;
}

/** Marks of a straightened strip to counted plants, with all that follows from where they stand. */
export function countStrip(
  detections: readonly Detection[],
  { strip, stretch, photoPxPerRasterPx, rowWidthM, seedSpacingM, gapM, alongErrorMm }: StripSetting,
): Pick<CountResult, 'plants' | 'count' | 'spacing' | 'gaps' | 'population'> {
  const { fromM, toM } = stretch;
  const plants = detections.map((d): CountedPlant => {
    const [xPx, yPx] = rasterToPhoto(applyHomography(strip.stripToPhoto, d.baseStripPx), photoPxPerRasterPx);
    const [alongM, acrossM] = stripToGround(strip, d.baseStripPx);
    const { id, kind, confidence, doubleChance, alongSdMm } = d;
    const inStretch = alongM >= fromM && alongM <= toM;
    return { id, xPx, yPx, alongM, acrossM, kind, inStretch, confidence, doubleChance, alongSdMm };
  });
  const count = countInterval(
    detections.filter((_, i) => plants[i]!.inStretch),
    0.9,
  );
  const row = measureRow({
    positionsM: plants.filter((p) => p.kind === 'plant' && p.inStretch).map((p) => p.alongM as number),
    fromM,
    toM,
    count,
    rowWidthM,
    seedSpacingM,
    gapM,
    lengthErrorShare: alongErrorMm / 1000 / (toM - fromM),
  });
  return { plants, count, ...row };
}
