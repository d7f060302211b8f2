import { applyHomography } from '../geometry/homography.ts';
import { countInterval } from '../plants/countInterval.ts';
import type { PlantFindings } from '../plants/detection.ts';
import type { Warning } from '../reference/reference.ts';
import type { Strip } from '../straighten/strip.ts';
import type { CountedPlant, CountResult } from './countResult.ts';
import { countSetting } from './countSetting.ts';
import { countStrip } from './countStrip.ts';
import { middleRow } from './middleRow.ts';
import type { PhotoAnalysis } from './photoAnalysis.ts';
import { photoEntry } from './photoEntry.ts';
import type { PreparedPhoto } from './preparedPhoto.ts';
import { fromPhotoPixels, rasterToPhoto } from './rasterToPhoto.ts';
import { rowsAlike } from './rowsAlike.ts';

/**
 * The second half of a count: what was found in a prepared photo, with its doubt and all that follows from it. Without
 * a scale the plants are listed at their pixels, and nothing is measured.
 *
 * @param nowMs when the plants were found, on the clock that the photo was prepared with.
 */
export function countFindings(
  prepared: PreparedPhoto,
  findings: PlantFindings,
  detector: CountResult['detector'],
  nowMs: number,
): PhotoAnalysis {
  const { photo, options, ground, strip } = prepared;
  const common = {
    schema: 'rowledger/count@1',
    photo: photoEntry(photo),
    setting: countSetting(photo, options),
    detector,
    timingsMs: {
      ...prepared.timingsMs,
      plants: nowMs - prepared.doneMs,
      total: nowMs - prepared.startMs,
    },
  } as const;
  if ('none' in ground) {
    const { reason, code, values, warnings } = ground.none;
    const named = code === undefined ? {} : { reasonCode: code, reasonValues: values ?? {} };
    const plants = listed(prepared, findings);
    const row = findings.detections.filter((_, i) => plants[i]!.inStretch);
    const beside = plants.filter((p) => p.kind === 'plant' && !p.inStretch).length;
    const result: CountResult = {
      ...common,
      reference: { ...NO_REFERENCE, reason, ...named },
      stretch: null,
      plants,
      count: countInterval(row, 0.9),
      spacing: null,
      gaps: [],
      population: null,
      warnings: [
        ...warnings,
        ...findings.warnings,
        {
          code: 'no-scale',
          message: `No length is known in this photo: nothing is measured.${beside === 0 ? '' : ` Counted is the row nearest to the middle as far as it shows; ${beside} plants stand beside it.`}`,
        },
      ],
    };
    return { result, strip: null, findings, found: null };
  }
  const { found, stretch } = ground;
  const scale = prepared.photoPxPerRasterPx;
  const { rowWidthM, seedSpacingM, gapM } = options;
  const result: CountResult = {
    ...common,
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
    ...countStrip(findings.detections, {
      strip,
      stretch,
      photoPxPerRasterPx: scale,
      rowWidthM,
      seedSpacingM,
      gapM,
      alongErrorMm: found.alongErrorMm,
    }),
    warnings: [
      ...found.warnings,
      ...stretch.warnings,
      ...findings.warnings,
      ...rowsAlike(findings.rowLine, found.kind, stretch, rowWidthM),
      ...unresolved(strip),
    ],
  };
  return { result, strip, findings, found };
}

const NO_REFERENCE = {
  kind: 'none',
  endsPx: null,
  endsM: null,
  photoToGround: null,
  alongErrorMm: null,
  cues: [],
  readings: [],
} as const;

/** Plants at their places in the photo, without any length; those of the row nearest to its middle are counted. */
function listed({ strip, photoPxPerRasterPx }: PreparedPhoto, { detections }: PlantFindings): CountedPlant[] {
  const inRow = middleRow(
    detections.filter((d) => d.kind === 'plant').map((d) => d.baseStripPx),
    strip.raster.widthPx,
    strip.raster.heightPx,
  );
  return detections.map(({ id, kind, confidence, doubleChance, baseStripPx }) => {
    const [xPx, yPx] = rasterToPhoto(applyHomography(strip.stripToPhoto, baseStripPx), photoPxPerRasterPx);
    const inStretch = inRow(baseStripPx);
    const noLengths = { alongM: null, acrossM: null, inStretch, alongSdMm: null };
    return { id, xPx, yPx, kind, confidence, doubleChance, ...noLengths };
  });
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
