import { useEffect, useState } from 'preact/hooks';
import type { CountResult } from '../../core/count/countResult.ts';
import { type Picture, photoPicture } from './pictures.ts';

export interface PhotoPicture {
  readonly picture: Picture | null;
  /** Why the photo cannot be shown. */
  readonly trouble: string | null;
}

/** The photo alone, to draw; its bitmaps are let go when it is no longer shown. */
export function usePhotoPicture(photo: Blob, result: CountResult): PhotoPicture {
  const [shown, setShown] = useState<PhotoPicture>({ picture: null, trouble: null });
  useEffect(() => {
    let left = false;
    let made: Picture | null = null;
    const close = () => {
      for (const { image } of made?.levels ?? []) image.close();
    };
    photoPicture(photo, result).then(
      (picture) => {
        made = picture;
        if (left) close();
        else setShown({ picture, trouble: null });
      },
      (error: unknown) =>
        setShown({ picture: null, trouble: `The photo cannot be shown here: ${(error as Error).message}` }),
    );
    return () => {
      left = true;
      close();
    };
  }, [photo, result]);
  return shown;
}
