import { useEffect, useRef, useState } from 'preact/hooks';
import type { CorrectedResult } from '../../core/corrections/replay.ts';
import type { CountResult } from '../../core/count/countResult.ts';
import type { Strip } from '../../core/straighten/strip.ts';
import { type Picture, photoPicture, straightenedHere, stripPicture } from './pictures.ts';

export interface Pictures {
  readonly photo: Picture | null;
  readonly strip: Picture | null;
  /** Why the photo cannot be shown. */
  readonly trouble: string | null;
}

/** A dragged reading comes to rest before the row is straightened anew. */
const REST_MS = 250;

/** The photo and the straightened row to draw; straightened anew when the soil plane was mended. */
export function usePictures(
  photo: Blob,
  strip: Strip | null,
  result: CountResult,
  corrected: CorrectedResult,
): Pictures {
  const [pictures, setPictures] = useState<Pictures>({ photo: null, strip: null, trouble: null });
  const shownPlane = useRef(result.reference.photoToGround);

  useEffect(() => {
    let left = false;
    const made: (Picture | null)[] = [];
    const show = (part: Partial<Pictures>) => {
      made.push(part.photo ?? null, part.strip ?? null);
      if (left) closeAll(made);
      else setPictures((before) => ({ ...before, ...part }));
    };
    const plane = result.reference.photoToGround;
    shownPlane.current = plane;
    const given = strip === null || plane === null ? null : stripPicture(strip, plane);
    given?.then((made) => show({ strip: made }));
    photoPicture(photo, result).then(
      (made) => {
        show({ photo: made, trouble: null });
        if (given === null && !left) straightenedHere(made, result).then((row) => show({ strip: row }));
      },
      (error: unknown) =>
        show({ trouble: `The photo cannot be shown here: ${error instanceof Error ? error.message : error}` }),
    );
    return () => {
      left = true;
      closeAll(made);
    };
  }, [photo, strip, result]);

  const plane = corrected.reference.photoToGround;
  useEffect(() => {
    const source = pictures.photo;
    if (source === null || plane === null || samePlane(plane, shownPlane.current)) return;
    const timer = setTimeout(() => {
      shownPlane.current = plane;
      straightenedHere(source, corrected).then((row) => {
        if (row === null) return;
        setPictures((before) => ({ ...before, strip: row }));
      });
    }, REST_MS);
    return () => clearTimeout(timer);
  }, [plane, pictures.photo]);
  return pictures;
}

/** A decoded photo of 12 megapixels holds 48 MB until somebody collects it: let go at once. */
function closeAll(pictures: readonly (Picture | null)[]): void {
  for (const picture of pictures) for (const { image } of picture?.levels ?? []) image.close();
}

function samePlane(a: readonly number[], b: readonly number[] | null): boolean {
  return b?.every((value, i) => value === a[i]) ?? false;
}
