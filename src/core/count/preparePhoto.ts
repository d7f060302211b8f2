import { applyHomography } from '../geometry/homography.ts';
import type { Point } from '../geometry/point.ts';
import type { Raster } from '../raster/raster.ts';
import { findReference } from '../reference/findReference.ts';
import type { FoundReference } from '../reference/reference.ts';
import { type StripArea, straighten } from '../straighten/straighten.ts';
import { yellowBand } from '../straighten/yellowBand.ts';
import { chooseStretch, type StretchChoice } from './chooseStretch.ts';
import type { CountOptions } from './countOptions.ts';
import { focalPx } from './focalPx.ts';
import type { Photo } from './photo.ts';
import { pictureAsStrip } from './pictureAsStrip.ts';
import type { PreparedPhoto } from './preparedPhoto.ts';
import { photoToRaster } from './rasterToPhoto.ts';

/** The row is looked for this far to either side of the reference, metres. */
const HALF_WIDTH_M = 0.42;
/** Ground shown beyond each end of the stretch, so that plants at its ends are seen whole, metres. */
const MARGIN_M = 0.15;

/**
 * The first half of a count: finds the reference and straightens the row. A photo without a trusted reference is
 * prepared all the same, as a picture without lengths.
 *
 * @param nowMs milliseconds of any steady clock.
 */
export function preparePhoto(photo: Photo, options: CountOptions, nowMs: () => number): PreparedPhoto {
  const startMs = nowMs();
  const { raster, photoPxPerRasterPx, ...file } = photo;
  const found = findReference(raster, inRasterPixels(options.reference, photoPxPerRasterPx), {
    focalPx: focalPx(photo.facts.focal35Mm, raster.widthPx, raster.heightPx),
    heightM: options.cameraHeight.heightM,
    heightSdM: options.cameraHeight.sdM,
    heightGiven: options.cameraHeight.given,
    gravity: options.gravity,
    rowWidthM: options.rowWidthM,
  });
  const referenceMs = nowMs() - startMs;
  const known = { photo: file, options, photoPxPerRasterPx, startMs };
  if (found.kind === 'none') {
    return {
      ...known,
      ground: { none: found },
      strip: pictureAsStrip(photo),
      search: { coveredStripPx: [], rowAcrossM: null, rowWidthM: null, seedSpacingM: null, scaleKnown: false },
      doneMs: nowMs(),
      timingsMs: { reference: referenceMs },
    };
  }
  const stretch = chooseStretch(found, options.stretch);
  const strip = straighten(raster, found.photoToGround, stripArea(found, stretch, raster));
  const doneMs = nowMs();
  return {
    ...known,
    ground: { found, stretch },
    strip,
    search: {
      coveredStripPx: [
        ...found.coveredPx.map((outline) => outline.map((p) => applyHomography(strip.photoToStrip, p))),
        ...(found.kind === 'marks' && found.coveredPx.length === 0 ? yellowBand(strip) : []),
      ],
      rowAcrossM: null,
      rowWidthM: options.rowWidthM,
      seedSpacingM: options.seedSpacingM,
      scaleKnown: found.kind !== 'scale',
    },
    doneMs,
    timingsMs: { reference: referenceMs, straighten: doneMs - startMs - referenceMs },
  };
}

function inRasterPixels(request: CountOptions['reference'], scale: number): CountOptions['reference'] {
  if (scale === 1) return request;
  if (request.kind === 'scale') return { kind: 'scale', mmPerPx: request.mmPerPx * scale };
  if (request.kind !== 'marks') return request;
  return {
    kind: 'marks',
    marks: request.marks.map((mark) => {
      const [xPx, yPx] = photoToRaster([mark.xPx, mark.yPx], scale);
      return { xPx, yPx, readingM: mark.readingM };
    }),
  };
}

/** The ground to straighten: beside a line its neighbourhood, inside a frame the frame, by scale alone the whole photo. */
function stripArea(found: FoundReference, stretch: StretchChoice, raster: Raster): StripArea {
  const along = { fromM: stretch.fromM - MARGIN_M, toM: stretch.toM + MARGIN_M, camera: found.camera };
  if (found.kind !== 'frame' && found.on !== 'frame' && found.kind !== 'scale') {
    return { ...along, acrossFromM: -HALF_WIDTH_M, acrossToM: HALF_WIDTH_M };
  }
  const corners: Point[] = [
    [0, 0],
    [raster.widthPx, 0],
    [0, raster.heightPx],
    [raster.widthPx, raster.heightPx],
  ];
  const outline = found.kind === 'scale' ? corners : found.coveredPx.flat();
  const across = outline.map((p) => applyHomography(found.photoToGround, p)[1]);
  return { ...along, acrossFromM: Math.min(...across), acrossToM: Math.max(...across) };
}
