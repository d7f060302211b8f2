import type { CountResult } from './countResult.ts';
import type { PhotoWithoutPixels } from './photo.ts';

/** What a result says of the photo it was made from. */
export function photoEntry(photo: PhotoWithoutPixels): CountResult['photo'] {
  return {
    file: photo.file,
    sha256: photo.sha256,
    widthPx: photo.widthPx,
    heightPx: photo.heightPx,
    takenAt: photo.facts.takenAt,
    position: photo.facts.position,
  };
}
