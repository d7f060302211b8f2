import { useEffect, useState } from 'preact/hooks';
import { keepTaken, unkept } from '../edits/countOnePhoto.ts';
import { go } from '../state/route.ts';

/** A photo that found no room: it is not lost while this stands here. */
export function Unkept() {
  const taken = unkept.value;
  const [url, setUrl] = useState<string | null>(null);
  useEffect(() => {
    if (taken === null) return;
    const made = URL.createObjectURL(taken.file);
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [taken]);
  if (taken === null) return null;
  const again = async () => {
    if ((await keepTaken(taken)) !== null) go('visit', taken.visit.id, 'spot', taken.spotId);
  };
  return (
    <section class="card" aria-label="Photo not kept yet">
      <p>
        <strong>1 photo</strong> is not kept yet. Leave this page open.
      </p>
      <div class="choices">
        <button type="button" class="main" onClick={() => void again()}>
          Try again
        </button>
        {url !== null && (
          <a class="button" href={url} download={taken.name}>
            Save as a file
          </a>
        )}
      </div>
    </section>
  );
}
