import type { Correction, PhotoChange } from '../../core/corrections/correction.ts';
import type { CountResult } from '../../core/count/countResult.ts';
import type { Strip } from '../../core/straighten/strip.ts';

/**
 * Correcting one photo's count. The caller owns the records; this component shows them and asks for more.
 *
 *   <CorrectPhoto photo={blob} result={result} strip={strip} corrections={own} by={name}
 *                 onChange={(change) => append(change)} onDone={close} />
 *
 * `corrections` are the records of this count, oldest first, whole history (a visit's records of one count fit as they
 * are). `onChange` gets one change; the caller gives it an id, a time and the person, appends it, and passes the longer
 * list back in. Undo and redo are changes too. Nothing is stored here.
 */
export interface CorrectPhotoProps {
  /** The photo file as it was taken. */
  readonly photo: Blob;
  /** What the machine said; never changed. */
  readonly result: CountResult;
  /** The straightened row, where it is at hand; null: it is made from the photo and the result's own plane. */
  readonly strip: Strip | null;
  readonly corrections: readonly Correction[];
  /** Name of the person who corrects. */
  readonly by: string;
  readonly units?: 'imperial' | 'metric';
  /** Least stand that is good enough, plants per square metre: marks that could decide it are asked first. */
  readonly floorPerM2?: number | null;
  readonly onChange: (change: PhotoChange) => void;
  readonly onDone: () => void;
}

export function CorrectPhoto({ result, by, onDone }: CorrectPhotoProps) {
  return (
    <section aria-label={`Correct ${result.photo.file}`}>
      <p>
        {result.count.value} plants, checked by {by}
      </p>
      <button type="button" onClick={onDone}>
        Done
      </button>
    </section>
  );
}
