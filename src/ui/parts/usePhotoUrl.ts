import { useEffect, useState } from 'preact/hooks';
import { store } from '../state/app.ts';

/** Where a photo can be seen: this device's own copy, else the server's; null while that is being found out. */
export function usePhotoUrl(sha256: string | null, side: 160 | 320 | 640 | 1280): string | null {
  const [url, setUrl] = useState<string | null>(null);
  useEffect(() => {
    if (sha256 === null) return;
    let made: string | null = null;
    let gone = false;
    void store()
      .get('photos', sha256)
      .then((photo) => {
        if (gone) return;
        if (photo === undefined) setUrl(`/api/photos/${sha256}/thumbnail?side=${side}`);
        else {
          made = URL.createObjectURL(photo.blob);
          setUrl(made);
        }
      });
    return () => {
      gone = true;
      if (made !== null) URL.revokeObjectURL(made);
    };
  }, [sha256, side]);
  return url;
}
