import { applyHomography, composeHomographies, type Homography } from '../../geometry/homography.ts';
import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import type { Raster } from '../../raster/raster.ts';
import { square } from '../../statistics/square.ts';
import { findCards } from '../cards/findCards.ts';
import { RESTING_HEIGHT } from '../plane/restingHeight.ts';
import type { CameraCues, FoundLine, FoundReference, Warning } from '../reference.ts';

/** Cards whose printed size and the marks differ by more do not agree: a print not at 100 %, or a wrong reading. */
const ALIKE = 0.02;

/**
 * The soil plane by marker cards on which hand marks lie, if any: tilt and camera are the cards', zero, direction and
 * scale the marks'.
 */
export function markedCards(photo: Raster, line: FoundLine, cues: CameraCues): FoundReference | null {
  const cards = findCards(photo, cues);
  if (cards.kind !== 'cards' || cards.camera === null) return null;
  const [a, b] = line.endsPx.map((p) => cards.coveredPx.findIndex((outline) => inside(p, outline)));
  if (a === undefined || b === undefined || a < 0 || b < 0 || a === b) return null;
  // The plane is the soil's: what lies above it is seen away from the point under the camera.
  const { alongM, acrossM, heightM } = cards.camera;
  const nearer = 1 - RESTING_HEIGHT.cards.heightM / heightM;
  const places = line.readings.map(({ xPx, yPx }): Point => {
    const [x, y] = applyHomography(cards.photoToGround, [xPx, yPx]);
    return [alongM + (x - alongM) * nearer, acrossM + (y - acrossM) * nearer];
  });
  const { zero, perMetre } = axisOf(
    places,
    line.readings.map((r) => r.readingM),
  );
  const size = norm(perMetre[0], perMetre[1]);
  const [c, s] = [perMetre[0] / square(size), perMetre[1] / square(size)];
  const toMarks: Homography = [c, s, -c * zero[0] - s * zero[1], -s, c, s * zero[0] - c * zero[1], 0, 0, 1];
  const warnings: Warning[] =
    Math.abs(size - 1) < ALIKE
      ? []
      : [
          {
            code: 'marks-off-cards',
            message: `By the size of the cards the marks are ${(100 * Math.abs(size - 1)).toFixed(0)} % too ${size > 1 ? 'short' : 'long'}: the marks are taken; check their readings, and that the cards were printed at 100 %.`,
          },
        ];
  const [camAlong, camAcross] = applyHomography(toMarks, [alongM, acrossM]);
  return {
    ...cards,
    kind: 'marks',
    on: 'cards',
    endsPx: line.endsPx,
    endsM: line.endsM,
    photoToGround: composeHomographies(toMarks, cards.photoToGround),
    otherPhotoToGround: cards.otherPhotoToGround.map((map) => composeHomographies(toMarks, map)),
    alongErrorMm: norm(cards.alongErrorMm / size, line.lengthErrorMm),
    camera: { alongM: camAlong, acrossM: camAcross, heightM: heightM / size },
    readings: line.readings.map(({ xPx, yPx, readingM }) => ({ xPx, yPx, readingM })),
    cues: [`${line.readings.length} readings along the marks`, ...cards.cues],
    warnings: [...line.warnings, ...cards.warnings, ...warnings],
  };
}

/** Least squares of place = zero + reading x perMetre. */
function axisOf(places: readonly Point[], readings: readonly number[]): { zero: Point; perMetre: Point } {
  const n = places.length;
  const mean = readings.reduce((sum, r) => sum + r, 0) / n;
  const middle = [0, 1].map((k) => places.reduce((sum, p) => sum + p[k]!, 0) / n) as [number, number];
  const spread = readings.reduce((sum, r) => sum + square(r - mean), 0);
  const perMetre = [0, 1].map(
    (k) => places.reduce((sum, p, i) => sum + (readings[i]! - mean) * (p[k]! - middle[k]!), 0) / spread,
  ) as [number, number];
  return { zero: [middle[0] - mean * perMetre[0], middle[1] - mean * perMetre[1]], perMetre };
}

/** Whether a point lies in a convex outline, whichever way it is walked. */
function inside([x, y]: Point, outline: readonly Point[]): boolean {
  const turns = outline.map(([ax, ay], i) => {
    const [bx, by] = outline[(i + 1) % outline.length]!;
    return (bx - ax) * (y - ay) - (by - ay) * (x - ax);
  });
  return turns.every((t) => t >= 0) || turns.every((t) => t <= 0);
}
