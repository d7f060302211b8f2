import { applyHomography } from '../geometry/homography.ts';
import type { Point } from '../geometry/point.ts';
import type { Raster } from '../raster/raster.ts';
import { findReference } from '../reference/findReference.ts';
import type { FoundReference, Warning } from '../reference/reference.ts';
import { type StripArea, straighten } from '../straighten/straighten.ts';
import type { Strip } from '../straighten/strip.ts';
import { yellowBand } from '../straighten/yellowBand.ts';
import { chooseStretch, type StretchChoice } from './chooseStretch.ts';
import type { CountOptions } from './countOptions.ts';
import type { CountResult } from './countResult.ts';
import { countSetting } from './countSetting.ts';
import { countStrip } from './countStrip.ts';
import { countWithoutScale } from './countWithoutScale.ts';
import { focalPx } from './focalPx.ts';
import type { Photo } from './photo.ts';
import type { CountTools, PhotoAnalysis } from './photoAnalysis.ts';
import { photoEntry } from './photoEntry.ts';
import { fromPhotoPixels, photoToRaster, rasterToPhoto } from './rasterToPhoto.ts';

/** The row is looked for this far to either side of the reference, metres. */
const HALF_WIDTH_M = 0.42;
/** Ground shown beyond each end of the stretch, so that plants at its ends are seen whole, metres. */
const MARGIN_M = 0.15;

/**
 * The main job: one photo to a count with its doubt. Finds the reference, straightens the row, finds the plants,
 * measures spacing, gaps and population. A photo without a trusted reference still gets its plants listed, without
 * any length, and the reason.
 */
export async function countPhoto(photo: Photo, options: CountOptions, tools: CountTools): Promise<PhotoAnalysis> {
  const start = tools.nowMs();
  const scale = photo.photoPxPerRasterPx;
  const raster = photo.raster;
  const found = findReference(raster, inRasterPixels(options.reference, scale), {
    focalPx: focalPx(photo.facts.focal35Mm, raster.widthPx, raster.heightPx),
    heightM: options.cameraHeight.heightM,
    heightSdM: options.cameraHeight.sdM,
    heightGiven: options.cameraHeight.given,
    gravity: options.gravity,
    rowWidthM: options.rowWidthM,
  });
  const referenceDone = tools.nowMs();
  if (found.kind === 'none') return countWithoutScale(photo, options, found, tools, start, referenceDone);

  const stretch = chooseStretch(found, options.stretch);
  const strip = straighten(raster, found.photoToGround, stripArea(found, stretch, raster));
  const straightDone = tools.nowMs();
  const findings = await tools.findPlants(strip, {
    coveredStripPx: [
      ...found.coveredPx.map((outline) => outline.map((p) => applyHomography(strip.photoToStrip, p))),
      ...(found.kind === 'marks' ? yellowBand(strip) : []),
    ],
    rowAcrossM: null,
    rowWidthM: options.rowWidthM,
    seedSpacingM: options.seedSpacingM,
  });
  const plantsDone = tools.nowMs();

  const counted = countStrip(findings.detections, {
    strip,
    stretch,
    photoPxPerRasterPx: scale,
    rowWidthM: options.rowWidthM,
    seedSpacingM: options.seedSpacingM,
    gapM: options.gapM,
    alongErrorMm: found.alongErrorMm,
  });
  const result: CountResult = {
    schema: 'rowledger/count@1',
    photo: photoEntry(photo),
    reference: {
      kind: found.kind,
      endsPx: [rasterToPhoto(found.endsPx[0], scale), rasterToPhoto(found.endsPx[1], scale)],
      endsM: found.endsM,
      photoToGround: fromPhotoPixels(found.photoToGround, scale),
      alongErrorMm: found.alongErrorMm,
      reason: null,
      cues: found.cues,
      readings: found.readings.map((r) => {
        const [xPx, yPx] = rasterToPhoto([r.xPx, r.yPx], scale);
        return { xPx, yPx, readingM: r.readingM };
      }),
    },
    stretch: { fromM: stretch.fromM, toM: stretch.toM, lengthM: stretch.toM - stretch.fromM },
    setting: countSetting(photo, options),
    detector: tools.detector,
    ...counted,
    warnings: [...found.warnings, ...stretch.warnings, ...findings.warnings, ...unresolved(strip)],
    timingsMs: {
      reference: referenceDone - start,
      straighten: straightDone - referenceDone,
      plants: plantsDone - straightDone,
      total: tools.nowMs() - start,
    },
  };
  return { result, strip, findings, found };
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
  if (found.kind !== 'frame' && found.kind !== 'scale') {
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

function unresolved(strip: Strip): Warning[] {
  if (strip.worstPhotoPxPerStripPx * (2 / strip.mmPerPx) >= 0.5) return [];
  return [
    {
      code: 'far-end-coarse',
      message: 'The far end shows less than one pixel for 4 mm of soil: small plants there can be missed. Go nearer.',
    },
  ];
}
