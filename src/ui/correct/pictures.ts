import type { CountResult } from '../../core/count/countResult.ts';
import {
  applyHomography,
  composeHomographies,
  type Homography,
  invertHomography,
} from '../../core/geometry/homography.ts';
import type { Point } from '../../core/geometry/point.ts';
import type { Raster } from '../../core/raster/raster.ts';
import { type StripArea, straighten } from '../../core/straighten/straighten.ts';
import type { Strip } from '../../core/straighten/strip.ts';
import type { PictureMap } from './camera.ts';

/** A picture to draw, at full size and at smaller ones for looking from afar. */
export interface Picture {
  readonly map: PictureMap;
  readonly levels: readonly { readonly image: ImageBitmap; readonly scale: number }[];
}

const SMALL_PX = 1000;
const MOST_STRAIGHTENED_PX = 13_000_000;
/** Without a scale the picture is taken to show so many metres across: only for zooming. */
const PRETENDED_WIDTH_M = 3;

/** The photo as it is, upright. HEIC goes through the analysis' own decoder, loaded only then. */
export async function photoPicture(photo: Blob, result: CountResult): Promise<Picture> {
  const { widthPx, heightPx } = result.photo;
  const full = await createImageBitmap(photo, { imageOrientation: 'from-image' }).catch(() => decoded(photo));
  const same: Homography = [1, 0, 0, 0, 1, 0, 0, 0, 1];
  const toGround = result.reference.photoToGround;
  return {
    map: {
      fromPhoto: same,
      toPhoto: same,
      widthPx,
      heightPx,
      pxPerM: toGround === null ? () => widthPx / PRETENDED_WIDTH_M : localPxPerM(toGround),
    },
    // What was decoded may be smaller than the photo (very large files); levels say by how much.
    levels: await levelsOf(full, full.width / widthPx),
  };
}

/** The straightened row, on the plane it was made with. */
export async function stripPicture(strip: Strip, photoToGround: Homography): Promise<Picture> {
  const { raster, mmPerPx, alongAtLeftM, acrossAtTopM } = strip;
  const pxPerM = 1000 / mmPerPx;
  const groundToStrip: Homography = [pxPerM, 0, -alongAtLeftM * pxPerM, 0, -pxPerM, acrossAtTopM * pxPerM, 0, 0, 1];
  const fromPhoto = composeHomographies(groundToStrip, photoToGround);
  const pixels = new ImageData(new Uint8ClampedArray(raster.data), raster.widthPx, raster.heightPx);
  const full = await createImageBitmap(pixels);
  return {
    map: {
      fromPhoto,
      toPhoto: invertHomography(fromPhoto),
      widthPx: full.width,
      heightPx: full.height,
      pxPerM: () => pxPerM,
    },
    levels: await levelsOf(full, 1),
  };
}

/** The row straightened here, from the photo as drawn: where no strip is at hand, or a reading was put elsewhere. */
export async function straightenedHere(photo: Picture, result: CountResult): Promise<Picture | null> {
  const { photoToGround, kind } = result.reference;
  if (photoToGround === null || result.stretch === null) return null;
  // The sharpest that fits into memory beside everything else.
  const fitting = photo.levels.filter((level) => level.image.width * level.image.height <= MOST_STRAIGHTENED_PX);
  const level = (fitting.length > 0 ? fitting : photo.levels).reduce((a, b) => (b.scale > a.scale ? b : a));
  const { image, scale } = level;
  const canvas = new OffscreenCanvas(image.width, image.height);
  const ink = canvas.getContext('2d', { willReadFrequently: true });
  if (ink === null) return null;
  ink.drawImage(image, 0, 0);
  const { data, width, height } = ink.getImageData(0, 0, image.width, image.height);
  const raster: Raster = { widthPx: width, heightPx: height, data };
  // Pixel centres at integers in both.
  const offset = 0.5 / scale - 0.5;
  const rasterToPhoto: Homography = [1 / scale, 0, offset, 0, 1 / scale, offset, 0, 0, 1];
  const area = stripArea(result, photoToGround, kind === 'frame' || kind === 'scale');
  try {
    return await stripPicture(
      straighten(raster, composeHomographies(photoToGround, rasterToPhoto), area),
      photoToGround,
    );
  } catch {
    return null;
  }
}

/** Beside a line its neighbourhood; in a frame, or by scale alone, as far as plants were seen. */
const HALF_WIDTH_M = 0.42;
const MARGIN_M = 0.15;

function stripArea({ stretch, plants }: CountResult, toGround: Homography, wide: boolean): StripArea {
  const across = wide ? plants.map((p) => applyHomography(toGround, [p.xPx, p.yPx])[1]) : [];
  return {
    fromM: stretch!.fromM - MARGIN_M,
    toM: stretch!.toM + MARGIN_M,
    acrossFromM: Math.min(-HALF_WIDTH_M, ...across.map((a) => a - MARGIN_M)),
    acrossToM: Math.max(HALF_WIDTH_M, ...across.map((a) => a + MARGIN_M)),
    camera: null,
  };
}

function localPxPerM(toGround: Homography): (at: Point) => number {
  return ([x, y]) => {
    const [ax, ay] = applyHomography(toGround, [x - 1, y]);
    const [bx, by] = applyHomography(toGround, [x + 1, y]);
    const [cx, cy] = applyHomography(toGround, [x, y - 1]);
    const [dx, dy] = applyHomography(toGround, [x, y + 1]);
    const perPx2 = Math.abs((bx - ax) * (dy - cy) - (by - ay) * (dx - cx)) / 4;
    // Near the horizon a pixel holds ever more ground; looking there must not blow the picture up.
    return 1 / Math.max(1e-4, Math.min(0.1, Math.sqrt(perPx2)));
  };
}

/** The picture, half of it, a quarter: whatever is drawn is shrunk by less than two, which is quick and does not flicker. */
async function levelsOf(full: ImageBitmap, scale: number): Promise<Picture['levels']> {
  const levels = [{ image: full, scale }];
  let last = levels[0]!;
  while (Math.max(last.image.width, last.image.height) > SMALL_PX) {
    const resizeWidth = Math.max(1, Math.round(last.image.width / 2));
    const resizeHeight = Math.max(1, Math.round(last.image.height / 2));
    const image = await createImageBitmap(last.image, { resizeWidth, resizeHeight, resizeQuality: 'medium' });
    last = { image, scale: (scale * image.width) / full.width };
    levels.push(last);
  }
  return levels;
}

async function decoded(photo: Blob): Promise<ImageBitmap> {
  const { decodePhoto } = await import('../../browser/decodePhoto.ts');
  const outcome = await decodePhoto(photo, 'photo');
  if (!outcome.ok) throw new Error(outcome.found);
  const { data, widthPx, heightPx } = outcome.value.raster;
  return createImageBitmap(new ImageData(new Uint8ClampedArray(data), widthPx, heightPx));
}
