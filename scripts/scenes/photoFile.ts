import sharp from 'sharp';
import { seededRandom } from './random.ts';
import type { SceneSpec } from './spec.ts';

/** Stored pixels of orientation n are the upright picture turned by this much clockwise. */
const STORED_TURN = { 1: 0, 3: 180, 6: 270, 8: 90 } as const;

const dms = (degrees: number): string => {
  const d = Math.floor(degrees);
  const m = Math.floor((degrees - d) * 60);
  const s = ((degrees - d) * 60 - m) * 60;
  return `${d}/1 ${m}/1 ${Math.round(s * 1000)}/1000`;
};

/** Bottom-up RGBA pixels to a JPEG file with the EXIF that a phone writes; maker, model and field are invented. */
export async function writePhoto(path: string, pixels: Buffer, spec: SceneSpec, quality: number): Promise<number> {
  const random = seededRandom(spec.seed).fork('exif');
  const focalMm = 5.1 + random.between(0, 0.8);
  const [lat, lon] = [46.9 + random.between(0, 0.02), 98.4 + random.between(0, 0.02)];
  const raw = sharp(pixels, { raw: { width: spec.widthPx, height: spec.heightPx, channels: 4 } });
  const upright = await raw.flip().removeAlpha().raw().toBuffer();
  const turned = sharp(upright, { raw: { width: spec.widthPx, height: spec.heightPx, channels: 3 } }).rotate(
    STORED_TURN[spec.orientation],
  );
  const info = await turned
    .withMetadata({ orientation: spec.orientation })
    .withExif({
      IFD0: {
        Make: 'Tarnfield',
        Model: `Loam ${1 + (spec.seed % 3)}`,
        Orientation: String(spec.orientation),
        DateTime: spec.takenAt.slice(0, 19).replaceAll('-', ':').replace('T', ' '),
      },
      IFD2: {
        DateTimeOriginal: spec.takenAt.slice(0, 19).replaceAll('-', ':').replace('T', ' '),
        OffsetTimeOriginal: spec.takenAt.slice(19),
        FocalLength: `${Math.round(focalMm * 100)}/100`,
        FocalLengthIn35mmFilm: String(Math.round(spec.camera.focal35)),
      },
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: dms(lat), GPSLongitudeRef: 'W', GPSLongitude: dms(lon) },
    })
    .jpeg({ quality, chromaSubsampling: '4:2:0', mozjpeg: true })
    .toFile(path);
  return info.size;
}
