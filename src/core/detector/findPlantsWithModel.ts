import { norm } from '../geometry/norm.ts';
import type { Point } from '../geometry/point.ts';
import { cameraView, leanAt } from '../plants/cameraView.ts';
import type { Detection, PlantFindings, PlantKind, PlantSearch } from '../plants/detection.ts';
import { findRowLine, type RowFit } from '../plants/findRowLine.ts';
import { fillPolygons } from '../raster/fillPolygons.ts';
import { square } from '../statistics/square.ts';
import type { Strip } from '../straighten/strip.ts';
import { calibrate } from './calibrate.ts';
import { decodeHeatmaps, type Peak } from './decodeHeatmaps.ts';
import type { DetectorCard } from './detectorCard.ts';
import { leafRegions } from './leafRegions.ts';
import type { ModelRunner } from './modelRunner.ts';
import { placeBase } from './placeBase.ts';
import { type Sight, samePlant } from './samePlant.ts';
import { stripToTensor } from './stripToTensor.ts';
import { visibleStem } from './visibleStem.ts';

/** Without any hint the row may lie anywhere in the strip; near a reference it lies within a few decimetres. */
const ROW_SD_MM = { hinted: 80, anchored: 200, free: 400 };
const MAX_SLOPE = 0.08;
const CLEAR_ROW_SHARE = 0.6;

interface Mark extends Peak {
  readonly sight: Sight;
  readonly stemPx: number;
  /** The base before a row is known. */
  readonly firstBasePx: Point;
}

/**
 * Finds plants in a strip with the network: crowns are the peaks of its heat map, the stem base follows from the
 * regressed vector, the visible stem and the row, and the confidence is the peak's score calibrated on held-out scenes.
 * Peaks whose stem would stand under the reference are dropped; a leaf may hang over it in the picture. Detections are
 * ordered along the row; those below the card's threshold are kept as `unsure` or `weed`.
 */
export async function findPlantsWithModel(
  strip: Strip,
  search: PlantSearch,
  run: ModelRunner,
  card: DetectorCard,
): Promise<PlantFindings> {
  const input = stripToTensor(strip, card);
  const maps = await run(input.tensor);
  const toStrip = ([x, y]: Point): Point => [x * input.scale + input.shift, y * input.scale + input.shift];
  const shown = shownPart(strip);
  const underReference = coveredPart(strip, search);
  const view = cameraView(strip);
  const marks = onePerPlant(
    decodeHeatmaps(maps, card)
      .filter((peak) => shown(toStrip(peak.crownPx)))
      .map((peak): Mark => {
        const sight = leanAt(view, toStrip(peak.crownPx));
        const stemPx = visibleStem(maps, peak.crownPx, sight, card);
        return { ...peak, sight, stemPx, firstBasePx: placeBase(peak.crownPx, peak.basePx, stemPx, sight, null) };
      })
      .filter((mark) => !underReference(toStrip(mark.firstBasePx))),
    card,
  );

  const row = fitRow(marks, strip, search, toStrip, card);
  const rowPx =
    row === null
      ? null
      : {
          y0: (-row.acrossAtZeroMm / strip.mmPerPx - row.slope * input.shift - input.shift) / input.scale,
          slope: -row.slope,
          sdPx: row.sdMm / card.mmPerPx,
        };
  const leaves = leafRegions(maps, marks, card);
  const half = card.stride / 2;
  const detections = marks
    .map((mark, k): Omit<Detection, 'id'> => {
      const box = leaves[k]!.boxPx ?? [...mark.crownPx, ...mark.crownPx];
      const [left, top] = toStrip([box[0] - half, box[1] - half]);
      const [right, bottom] = toStrip([box[2] + half, box[3] + half]);
      const along = card.baseSdMmPerTangent * mark.sight.tangent * Math.abs(mark.sight.away[0]);
      return {
        baseStripPx: toStrip(placeBase(mark.crownPx, mark.basePx, mark.stemPx, mark.sight, rowPx)),
        crownStripPx: toStrip(mark.crownPx),
        kind: kindOf(mark, card.threshold),
        confidence: calibrate(mark.score, card.calibration),
        doubleChance: mark.double,
        leafAreaMm2: leaves[k]!.cells * square(card.stride * card.mmPerPx),
        boxStripPx: [left, top, right, bottom],
        alongSdMm: norm(card.baseSdMm, along),
      };
    })
    .sort((a, b) => a.baseStripPx[0] - b.baseStripPx[0] || a.baseStripPx[1] - b.baseStripPx[1])
    .map((d, k): Detection => ({ id: `n${k + 1}`, ...d }));

  if (!detections.some((d) => d.kind === 'plant')) {
    const message = 'the plant network found no plant in the strip';
    return { detections, rowLine: null, warnings: [{ code: 'no-plants', message }] };
  }
  if (row === null) {
    const message = 'the plants found do not stand along one line';
    return { detections, rowLine: null, warnings: [{ code: 'row-unclear', message }] };
  }
  const rowLine = {
    acrossAtZeroM: strip.acrossAtTopM + row.acrossAtZeroMm / 1000 - row.slope * strip.alongAtLeftM,
    slope: row.slope,
    sdM: row.sdMm / 1000,
  };
  return { detections, rowLine, warnings: [] };
}

/** Says of a strip place whether the photo shows it. */
function shownPart({ raster: { widthPx, heightPx, data } }: Strip): (placePx: Point) => boolean {
  return (place) => {
    const [x, y] = place.map(Math.round) as [number, number];
    return x >= 0 && y >= 0 && x < widthPx && y < heightPx && data[4 * (y * widthPx + x) + 3]! >= 128;
  };
}

/** Says of a strip place whether the reference lies there. */
function coveredPart({ raster: { widthPx, heightPx } }: Strip, search: PlantSearch): (placePx: Point) => boolean {
  const covered = fillPolygons(widthPx, heightPx, search.coveredStripPx);
  return (place) => {
    const [x, y] = place.map(Math.round) as [number, number];
    return x >= 0 && y >= 0 && x < widthPx && y < heightPx && covered.data[y * widthPx + x] === 1;
  };
}

/** Keeps the strongest mark of each plant. */
function onePerPlant(marks: readonly Mark[], card: DetectorCard): readonly Mark[] {
  const mm = ([x, y]: Point): Point => [x * card.mmPerPx, y * card.mmPerPx];
  const kept: { mark: Mark; crownMm: Point; baseMm: Point }[] = [];
  for (const mark of marks) {
    const placed = { mark, crownMm: mm(mark.crownPx), baseMm: mm(mark.firstBasePx) };
    if (!kept.some((k) => samePlant(placed, k, k.mark.sight, card.suppressMm))) kept.push(placed);
  }
  return kept.map(({ mark }) => mark);
}

/** The row through the bases, in millimetres from the strip's first pixel (across rises upward); null when unclear. */
function fitRow(
  marks: readonly Mark[],
  strip: Strip,
  search: PlantSearch,
  toStrip: (p: Point) => Point,
  card: DetectorCard,
): RowFit | null {
  const anchored = strip.camera !== null || search.coveredStripPx.length > 0 || search.rowAcrossM !== null;
  const sdMm = search.rowAcrossM !== null ? ROW_SD_MM.hinted : anchored ? ROW_SD_MM.anchored : ROW_SD_MM.free;
  const fit = findRowLine(
    marks
      .filter((m) => kindOf(m, card.threshold) === 'plant')
      .map((m) => {
        const [x, y] = toStrip(m.firstBasePx);
        return { atMm: [x * strip.mmPerPx, -y * strip.mmPerPx], weight: calibrate(m.score, card.calibration) };
      }),
    { acrossMm: ((search.rowAcrossM ?? 0) - strip.acrossAtTopM) * 1000, sdMm, maxSlope: MAX_SLOPE },
  );
  return fit === null || (!anchored && fit.share <= CLEAR_ROW_SHARE) ? null : fit;
}

function kindOf({ score, weedScore }: Peak, threshold: number): PlantKind {
  if (weedScore > score) return 'weed';
  return score >= threshold ? 'plant' : 'unsure';
}
