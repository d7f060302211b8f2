import type { Point } from '../geometry/point.ts';
import type { Strip } from '../straighten/strip.ts';
import { type CameraView, cameraView, groundBelow } from './cameraView.ts';
import { crownHeight } from './crownHeight.ts';
import type { PlantFindings, PlantSearch } from './detection.ts';
import { findRowLine, type RowFit, type RowMark } from './findRowLine.ts';
import { findStems } from './findStems.ts';
import { groupParts } from './groupParts.ts';
import type { PlantScale } from './groupScore.ts';
import { type LeafPart, type LeafParts, leafParts, subset } from './leafParts.ts';
import { type NeighbourOdds, neighbourOdds } from './neighbourOdds.ts';
import { makeGrouper, type PartGroup } from './partGroup.ts';
import { plantScale } from './plantScale.ts';
import type { Standing } from './rowCost.ts';
import { rowEvidence } from './rowEvidence.ts';
import { rowParts, type StripRow } from './rowParts.ts';
import { segmentLeaves } from './segmentLeaves.ts';
import { spacingPrior } from './spacingPrior.ts';
import { stemBase } from './stemBase.ts';
import { withStems } from './stemParts.ts';
import { toDetections } from './toDetections.ts';
import { weightedMedian } from './weightedMedian.ts';

/** Crown height over the square root of a typical lobe's area: 45 to 70 mm for leaves of 10 cm2. Common practice, no source. */
const HEIGHT_PER_ROOT_LOBE = 1.8;
/** Green over more of the strip than this is no row of seedlings: a lawn, a weed mat, a closed canopy. */
const CLOSED_COVER = 0.45;
/** Spread of the row about the reference's line, and about the picture's middle where nothing says where it is. */
const ROW_SD_MM = { given: 80, beside: 200, unknown: 400 } as const;
/** A reference is laid beside the row; a photo that only has a scale may be turned. */
const MAX_SLOPE = { beside: 0.08, unknown: 0.5 } as const;

/**
 * Finds seedlings in a strip by colour and shape alone: green on the vegetation index, cut into lobes, lobes on the row
 * put together into plants of one size (chosen by likelihood), each with its stem base under the leaves as the camera
 * saw them. Pure and deterministic. Bare soil gives an empty list; without a row line every mark stays, and a warning
 * says so.
 */
export function findPlantsByColour(strip: Strip, search: PlantSearch): PlantFindings {
  const leaves = segmentLeaves(strip, search);
  const lobes = leafParts(leaves, strip.raster, strip.mmPerPx);
  if (lobes.parts.length === 0) return nothing('no-green', 'No green leaves were found in the strip.');
  const view = cameraView(strip);
  const anchored = strip.camera !== null || search.coveredStripPx.length > 0 || search.rowAcrossM !== null;
  const toMm = ([x, y]: Point): Point => [x * strip.mmPerPx, -y * strip.mmPerPx];

  // a first row line, through the leaves brought down to the soil
  const lobeMm2 = weightedMedian(lobes.parts.map((p) => [p.areaMm2, p.areaMm2] as const));
  const lobeMm = weightedMedian(
    lobes.parts.filter((p) => p.areaMm2 > lobeMm2 / 2.5).map((p) => [p.lengthMm, 1] as const),
  );
  const expectedMm = HEIGHT_PER_ROOT_LOBE * Math.sqrt(lobeMm2);
  const maxSlope = anchored ? MAX_SLOPE.beside : MAX_SLOPE.unknown;
  const first = findRowLine(
    lobes.parts.map((p) => ({ atMm: toMm(groundBelow(view, p.centrePx, expectedMm)), weight: Math.sqrt(p.areaMm2) })),
    {
      acrossMm: ((search.rowAcrossM ?? 0) - strip.acrossAtTopM) * 1000,
      sdMm: search.rowAcrossM !== null ? ROW_SD_MM.given : anchored ? ROW_SD_MM.beside : ROW_SD_MM.unknown,
      maxSlope,
    },
  )!;
  const stems = anchored ? findStems(leaves, strip.raster, view, stripRow(first, strip.mmPerPx)) : [];
  const all = withStems(lobes, stems, view);
  const { parts, contacts } = all;
  const roughly = { tallestMm: 2.2 * expectedMm, spanMm: 3.2 * Math.sqrt(lobeMm2) };
  const near = subset(all, rowParts(parts, stripRow(first, strip.mmPerPx), view, roughly).on);

  // the size of a plant, from what stands on that line
  const sown = anchored
    ? spacingPrior(
        near.parts.filter((p) => p.stem === null).map((p) => toMm(p.centrePx)[0]),
        search.seedSpacingM,
      )
    : () => 0;
  const neighbours = anchored ? neighbourOdds(search.seedSpacingM) : null;
  const scaled =
    plantScale(near.parts, near.contacts, view, makeGrouper(view, lobeMm), sown, neighbours) ??
    plantScale(parts, contacts, view, makeGrouper(view, lobeMm), sown, neighbours);
  if (scaled === null) return nothing('no-whole-plant', 'Only leaves cut by the border of the picture were found.');
  const scale = { ...scaled.scale, stemShare: stemShare(scaled.groups, scaled.scale) };
  const heightMm = crownHeight(scaled.groups, view, scale, expectedMm);
  const together = (
    list: LeafParts,
    odds: NeighbourOdds | null = null,
    standing: Standing | null = null,
  ): readonly PartGroup[] =>
    groupParts(list.parts, list.contacts, view, scale, makeGrouper(view, lobeMm), odds, true, standing);

  // the row line again, through the stem bases; the row's parts apart from the rest
  const firstGroups = anchored ? [...scaled.groups, ...together(subset(all, without(parts, near)))] : together(all);
  const marks = firstGroups.map((g): RowMark => {
    const { basePx } = baseOf(g, view, scale, heightMm, null);
    return { atMm: toMm(basePx), weight: Math.sqrt(Math.min(g.areaMm2, scale.areaMm2)) };
  });
  const row = findRowLine(marks, { acrossMm: acrossInMiddle(first, strip), sdMm: 120, maxSlope })!;
  const evident = rowEvidence(marks, row, strip.raster.widthPx * strip.mmPerPx, strip.raster.heightPx * strip.mmPerPx);
  const onLine = anchored ? evident : evident && row.share > 0.7 && marks.length >= 4;
  const line = onLine ? stripRow(row, strip.mmPerPx) : null;
  const divided = line && rowParts(parts, line, view, { tallestMm: 1.8 * heightMm, spanMm: scale.spanMm });
  const groups =
    divided === null
      ? together(all)
      : [
          ...together(
            subset(all, divided.on),
            neighbours,
            anchored && line ? { row: line, tallestMm: 1.4 * heightMm } : null,
          ),
          ...together(subset(all, divided.off)),
        ];

  const closed = leaves.threshold.cover > CLOSED_COVER;
  const detections = toDetections(groups, {
    view,
    scale,
    row: line,
    heightMm,
    rowWidthMm: search.rowWidthM === null ? null : search.rowWidthM * 1000,
    doubt: closed ? 0.25 : anchored && line === null ? 0.5 : 1,
  });
  const warnings = [];
  if (closed)
    warnings.push({
      code: 'canopy-closed',
      message: 'Green covers most of the strip: single plants cannot be told apart.',
    });
  if (line === null)
    warnings.push({
      code: 'row-unclear',
      message: 'What is green does not stand along one line: crop and weeds cannot be told by place.',
    });
  return { detections, rowLine: line === null ? null : groundLine(row, strip), warnings };
}

/** Crown and base of a group; smaller plants stand lower. */
function baseOf(group: PartGroup, view: CameraView, scale: PlantScale, heightMm: number, row: StripRow | null) {
  return stemBase(group, view, heightMm * Math.min(1, Math.sqrt(group.areaMm2 / scale.areaMm2)), row);
}

/** Share of plants whose stem is seen, held between a fifth and nine tenths; two thirds where there are few plants. */
function stemShare(groups: readonly PartGroup[], { areaMm2 }: PlantScale): number {
  const plants = groups.filter((g) => g.leaves > 0 && g.areaMm2 > 0.3 * areaMm2);
  const seen = plants.filter((g) => g.stems.length > 0).length;
  return Math.max(0.2, Math.min(0.9, (seen + 2) / (plants.length + 3)));
}

function stripRow(fit: RowFit, mmPerPx: number): StripRow {
  return { y0: -fit.acrossAtZeroMm / mmPerPx, slope: -fit.slope, sdPx: fit.sdMm / mmPerPx };
}

function acrossInMiddle(row: RowFit, strip: Strip): number {
  return row.acrossAtZeroMm + (row.slope * strip.raster.widthPx * strip.mmPerPx) / 2;
}

function groundLine(row: RowFit, strip: Strip) {
  const acrossAtZeroM = strip.acrossAtTopM + row.acrossAtZeroMm / 1000 - row.slope * strip.alongAtLeftM;
  return { acrossAtZeroM, slope: row.slope, sdM: row.sdMm / 1000 };
}

function without(
  parts: readonly LeafPart[],
  taken: LeafParts & { readonly oldIds: readonly number[] },
): readonly LeafPart[] {
  const ids = new Set(taken.oldIds);
  return parts.filter((p) => !ids.has(p.id));
}

function nothing(code: string, message: string): PlantFindings {
  return { detections: [], rowLine: null, warnings: [{ code, message }] };
}
