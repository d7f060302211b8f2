import { useState } from 'preact/hooks';
import type { PhotoResult } from '../../core/visit/countSchema.ts';
import { usePhotoUrl } from './usePhotoUrl.ts';

interface PhotoViewProps {
  readonly sha256: string;
  readonly alt: string;
  readonly side: 160 | 320 | 640 | 1280;
  /** Draws the plants found over the photo. */
  readonly result?: PhotoResult;
}

/** A photo, with what was found in it on top. Its place is kept while it loads, so nothing jumps. */
export function PhotoView({ sha256, alt, side, result }: PhotoViewProps) {
  const url = usePhotoUrl(sha256, side);
  const [missing, setMissing] = useState(false);
  const photo = result?.photo as { widthPx?: number; heightPx?: number } | undefined;
  const [w, h] = [photo?.widthPx ?? 4, photo?.heightPx ?? 3];
  return (
    <figure class="photo" style={{ aspectRatio: `${w} / ${h}` }}>
      {url !== null && !missing && <img src={url} alt={alt} onError={() => setMissing(true)} />}
      {missing && url !== null && (
        <p class="small">
          {alt}: {url.startsWith('blob:') ? 'it cannot be shown here' : 'not on this device, and no network'}.
        </p>
      )}
      {result !== undefined && !missing && (
        <svg viewBox={`0 0 ${w} ${h}`} aria-hidden="true">
          {result.plants.map((plant) => {
            const { xPx, yPx } = plant as unknown as { xPx: number; yPx: number };
            return (
              <circle
                key={plant.id}
                cx={xPx}
                cy={yPx}
                r={w / 110}
                class={`found ${plant.kind === 'plant' ? (plant.inStretch ? 'found-plant' : 'found-outside') : 'found-other'}`}
              />
            );
          })}
        </svg>
      )}
    </figure>
  );
}
