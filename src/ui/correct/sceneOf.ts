import { handleReadings, sameReading } from '../../core/corrections/movedReference.ts';
import type { CorrectedResult } from '../../core/corrections/replay.ts';
import { applyHomography, invertHomography } from '../../core/geometry/homography.ts';
import type { Point } from '../../core/geometry/point.ts';
import type { LengthSystem } from '../../core/units/formatLength.ts';
import type { Thing } from './gestures.ts';
import { initials, type Mark } from './marks.ts';
import type { Scene } from './paintView.ts';

/** The ends of the stretch are drawn so far to either side of the reference, metres. */
const END_HALF_M = 0.3;

/** What lies over both pictures. */
export function sceneOf(
  shown: CorrectedResult,
  marks: readonly Mark[],
  held: Thing | null,
  ghost: Point | null,
  by: string,
  system: LengthSystem,
): Scene {
  const { reference, stretch, placedReadings } = shown;
  const toPhoto = reference.photoToGround === null ? null : invertHomography(reference.photoToGround);
  const ends = toPhoto === null || stretch === null ? [] : [stretch.fromM, stretch.toM];
  return {
    marks,
    readings: handleReadings(reference).map((reading) => {
      const placed = placedReadings.find((one) => sameReading(one, reading));
      return { ...reading, who: placed === undefined ? null : placed.by === by ? 'you' : initials(placed.by) };
    }),
    ends: ends.map((alongM) => [
      applyHomography(toPhoto!, [alongM, -END_HALF_M]),
      applyHomography(toPhoto!, [alongM, END_HALF_M]),
    ]),
    selectedId: held !== null && 'plantId' in held ? held.plantId : null,
    selectedReadingM: held !== null && 'readingM' in held ? held.readingM : null,
    ghost,
    system,
  };
}
