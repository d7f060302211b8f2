import { useEffect, useRef, useState } from 'preact/hooks';
import { openCamera, type PageCamera } from '../../browser/sensors/openCamera.ts';
import type { Vector3 } from '../../core/geometry/point.ts';

interface CameraProps {
  readonly onPhoto: (photo: Blob, name: string, gravity: Vector3 | null) => Promise<void>;
  readonly onClose: () => void;
}

/** The camera in the page: with the picture it keeps how the phone was held. */
export function Camera({ onPhoto, onClose }: CameraProps) {
  const video = useRef<HTMLVideoElement>(null);
  const [camera, setCamera] = useState<PageCamera | null>(null);
  const [says, setSays] = useState('Opening the camera');
  useEffect(() => {
    let open: PageCamera | null = null;
    let gone = false;
    openCamera(video.current as HTMLVideoElement).then(
      (made) => {
        open = made;
        if (gone) return made.close();
        setCamera(made);
        setSays('Tape, rod or cards beside the row, the whole stretch in view');
      },
      () => setSays('No camera for this page. Use the phone camera or the gallery.'),
    );
    return () => {
      gone = true;
      open?.close();
    };
  }, []);
  const take = async () => {
    if (camera === null) return;
    setSays('Keeping');
    const { photo, gravity } = await camera.take();
    await onPhoto(photo, `row-${new Date().toISOString().slice(0, 19).replaceAll(':', '')}.jpg`, gravity);
  };
  return (
    <section class="camera">
      <video ref={video} autoplay playsInline muted aria-label="What the camera sees" />
      <p role="status">{says}</p>
      <div class="choices">
        <button type="button" class="main" disabled={camera === null} onClick={() => void take()}>
          Take it
        </button>
        <button type="button" onClick={onClose}>
          Back
        </button>
      </div>
    </section>
  );
}
