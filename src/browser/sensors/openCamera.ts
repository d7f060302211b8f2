import type { Vector3 } from '../../core/geometry/point.ts';
import { watchGravity } from './watchGravity.ts';

export interface PageCamera {
  /** A photo and how the phone was held; gravity is null where it is not known, or not sure to fit the photo. */
  readonly take: () => Promise<{ readonly photo: Blob; readonly gravity: Vector3 | null }>;
  readonly close: () => void;
}

interface PhotoTaker {
  takePhoto: () => Promise<Blob>;
}

const JPEG_QUALITY = 0.95;

/** Opens the back camera into a video element. Rejects where there is none or it is not allowed. */
export async function openCamera(video: HTMLVideoElement): Promise<PageCamera> {
  const gravity = await watchGravity();
  const stream = await navigator.mediaDevices
    .getUserMedia({ video: { facingMode: { ideal: 'environment' }, width: { ideal: 4096 }, height: { ideal: 3072 } } })
    .catch((error: unknown) => {
      gravity.stop();
      throw error;
    });
  video.srcObject = stream;
  await video.play();
  const [track] = stream.getVideoTracks();
  return {
    take: async () => {
      const held = gravity.now();
      const Taker = (globalThis as { ImageCapture?: new (track: MediaStreamTrack) => PhotoTaker }).ImageCapture;
      const full =
        Taker === undefined || track === undefined ? null : await new Taker(track).takePhoto().catch(() => null);
      const photo = full ?? (await frameOf(video));
      return { photo, gravity: (await isSameWayUp(photo, video)) ? held : null };
    },
    close: () => {
      gravity.stop();
      for (const one of stream.getTracks()) one.stop();
      video.srcObject = null;
    },
  };
}

/** The picture on the screen, as it stands; photos that cameras take apart from it may be turned against it. */
async function isSameWayUp(photo: Blob, video: HTMLVideoElement): Promise<boolean> {
  const bitmap = await createImageBitmap(photo, { imageOrientation: 'from-image' });
  const same = bitmap.width > bitmap.height === video.videoWidth > video.videoHeight;
  bitmap.close();
  return same;
}

function frameOf(video: HTMLVideoElement): Promise<Blob> {
  const canvas = new OffscreenCanvas(video.videoWidth, video.videoHeight);
  canvas.getContext('2d')?.drawImage(video, 0, 0);
  return canvas.convertToBlob({ type: 'image/jpeg', quality: JPEG_QUALITY });
}
