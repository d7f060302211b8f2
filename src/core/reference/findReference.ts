import type { Raster } from '../raster/raster.ts';
import { findCards } from './cards/findCards.ts';
import { findFrame } from './frame/findFrame.ts';
import { findMarked } from './marks/findMarked.ts';
import { scaleReference } from './marks/scaleReference.ts';
import { solvePlane } from './plane/solvePlane.ts';
import type { CameraCues, FoundLine, FoundReference, NoReference, ReferenceRequest } from './reference.ts';
import { findRod } from './rod/findRod.ts';
import { greenPoints } from './rows/greenPoints.ts';
import { findTape } from './tape/findTape.ts';

/**
 * The reference in a photo as the soil plane with its doubt, or why there is none. `auto` looks for marker cards, then for
 * a graduated tape: rods, frames and tapes without print give no scale unless a person says their size.
 */
export function findReference(
  photo: Raster,
  request: ReferenceRequest,
  cues: CameraCues,
): FoundReference | NoReference {
  switch (request.kind) {
    case 'auto':
      return findAny(photo, cues);
    case 'tape':
      return beside(findTape(photo, request, cues), photo, cues);
    case 'rod':
      return beside(findRod(photo, request), photo, cues);
    case 'frame':
      return findFrame(photo, request.alongM, request.acrossM, cues);
    case 'cards':
      return findCards(photo, cues);
    case 'marks':
      return findMarked(photo, request.marks, cues);
    case 'scale':
      return scaleReference(request.mmPerPx, photo.widthPx, photo.heightPx);
  }
}

function findAny(photo: Raster, cues: CameraCues): FoundReference | NoReference {
  const cards = findCards(photo, cues);
  const several = cards.kind === 'cards' && !cards.warnings.some((w) => w.code === 'one-card');
  if (several) return cards;
  const tape = beside(findTape(photo, { kind: 'auto' }, cues), photo, cues);
  if (tape.kind !== 'none') return tape;
  if (cards.kind !== 'none') return cards;
  return {
    kind: 'none',
    code: 'no-cards-no-tape',
    values: { cards: cards.reason, tape: tape.reason, tapeCode: tape.code ?? '' },
    reason: `Looked for marker cards and for a graduated tape. Cards: ${cards.reason} Tape: ${tape.reason}. A rod, a frame or a tape of known length needs to be named with its size.`,
    warnings: [...cards.warnings, ...tape.warnings],
  };
}

function beside(line: FoundLine | NoReference, photo: Raster, cues: CameraCues): FoundReference | NoReference {
  return line.kind === 'none' ? line : solvePlane(line, cues, { ...photo, green: () => greenPoints(photo) });
}
