import type { Raster } from '../../raster/raster.ts';
import { solvePlane } from '../plane/solvePlane.ts';
import type { CameraCues, FoundReference, NoReference, Reading } from '../reference.ts';
import { greenPoints } from '../rows/greenPoints.ts';
import { lineOfMarks } from './lineOfMarks.ts';
import { markedCards } from './markedCards.ts';
import { markedFrame } from './markedFrame.ts';
import { markedRod } from './markedRod.ts';
import { markedTape } from './markedTape.ts';

/**
 * The soil plane by hand marks. The marks decide the scale; what they lie on (a tape, cards, a frame, a rod) is looked for
 * only along them, and gives what it gives without marks too: how high they lie, what it covers, how it is foreshortened.
 */
export function findMarked(photo: Raster, marks: readonly Reading[], cues: CameraCues): FoundReference | NoReference {
  const line = lineOfMarks(marks, photo.widthPx, photo.heightPx);
  if (line.kind === 'none') return line;
  const tape = markedTape(photo, line, cues);
  if (tape?.clear !== true) {
    const cards = markedCards(photo, line, cues);
    if (cards !== null) return cards;
  }
  const frame = tape?.clear ? null : markedFrame(photo, line, cues);
  if (frame?.plane) return frame.plane;
  const known = tape?.clear ? tape.line : (frame?.line ?? markedRod(photo, line, tape?.line ?? null) ?? line);
  const found = solvePlane(known, cues, { ...photo, green: () => greenPoints(photo) });
  // what a person marked is shown, and moved, where it was marked; the print only made it finer
  return found.kind === 'none'
    ? found
    : { ...found, readings: line.readings.map(({ xPx, yPx, readingM }) => ({ xPx, yPx, readingM })) };
}
