import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import type { Raster } from '../../raster/raster.ts';
import { findCards } from '../cards/findCards.ts';
import { RESTING_HEIGHT } from '../plane/restingHeight.ts';
import type { CameraCues, FoundLine, FoundReference, Warning } from '../reference.ts';
import { planeOnMarks } from './planeOnMarks.ts';

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
  const { size, ...plane } = planeOnMarks(cards, cards.camera, RESTING_HEIGHT.cards.heightM, line.readings);
  const warnings: Warning[] =
    Math.abs(size - 1) < ALIKE
      ? []
      : [
          {
            code: 'marks-off-cards',
            message: `By the size of the cards the marks are ${(100 * Math.abs(size - 1)).toFixed(0)} % too ${size > 1 ? 'short' : 'long'}: the marks are taken; check their readings, and that the cards were printed at 100 %.`,
          },
        ];
  return {
    ...cards,
    kind: 'marks',
    on: 'cards',
    endsPx: line.endsPx,
    endsM: line.endsM,
    alongErrorMm: norm(cards.alongErrorMm / size, line.lengthErrorMm),
    ...plane,
    readings: line.readings.map(({ xPx, yPx, readingM }) => ({ xPx, yPx, readingM })),
    cues: [`${line.readings.length} readings along the marks`, ...cards.cues],
    warnings: [...line.warnings, ...cards.warnings, ...warnings],
  };
}

/** Whether a point lies in a convex outline, whichever way it is walked. */
function inside([x, y]: Point, outline: readonly Point[]): boolean {
  const turns = outline.map(([ax, ay], i) => {
    const [bx, by] = outline[(i + 1) % outline.length]!;
    return (bx - ax) * (y - ay) - (by - ay) * (x - ax);
  });
  return turns.every((t) => t >= 0) || turns.every((t) => t <= 0);
}
