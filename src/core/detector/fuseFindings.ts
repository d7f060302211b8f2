import type { Point } from '../geometry/point.ts';
import { type CameraView, cameraView, leanAt } from '../plants/cameraView.ts';
import type { Detection, PlantFindings, PlantKind } from '../plants/detection.ts';
import type { Strip } from '../straighten/strip.ts';
import { groundToStrip } from '../straighten/stripGround.ts';
import { dropSecondMarks } from './dropSecondMarks.ts';

/** Bean stems stand about this far to either side of their row line (1 sd), millimetres. Common practice, no source. */
const ROW_SCATTER_MM = 10;
/** The network places a stem base along the line of sight this well for each unit of the viewing angle's tangent. */
export const SIGHT_SD_MM_PER_TANGENT = 30;
/** Farther off the row line than this share of its own doubt and scatter, a mark is no plant of this row. */
const OFF_ROW_SDS = 3.5;
const LEAST_OFF_ROW_MM = 60;

/**
 * One list from two kinds of evidence: the network says what is a plant and where along the row; colour and the
 * camera's place say where the row line runs, and so how far toward the camera each stem base lies. A leaf displaced by
 * its height moves along the line of sight only, so the base slides along that line toward the row. Two marks of one
 * plant, seen at two heights along one line of sight, become one. Marks off the row (weeds, neighbour rows) are called
 * `weed` and lose their confidence.
 */
export function fuseFindings(network: PlantFindings, colour: PlantFindings, strip: Strip): PlantFindings {
  const row = colour.rowLine ?? network.rowLine;
  const view = cameraView(strip);
  const placed = row === null ? network.detections : network.detections.map((d) => ontoRow(d, row, view, strip));
  const detections = dropSecondMarks(placed, colour.detections, view)
    .sort((a, b) => a.baseStripPx[0] - b.baseStripPx[0] || a.baseStripPx[1] - b.baseStripPx[1])
    .map((d, k): Detection => ({ ...d, id: `p${k + 1}` }));
  return {
    detections,
    rowLine: row,
    warnings: network.warnings.filter((w) => w.code !== 'row-unclear' || row === null),
  };
}

/** The base moved along its line of sight toward the row, and called a weed where it cannot reach it. */
function ontoRow(d: Detection, row: NonNullable<PlantFindings['rowLine']>, view: CameraView, strip: Strip): Detection {
  const slope = -row.slope;
  const [, y0] = groundToStrip(strip, [strip.alongAtLeftM, row.acrossAtZeroM + row.slope * strip.alongAtLeftM]);
  const scatterPx = Math.max(ROW_SCATTER_MM, row.sdM * 1000) / strip.mmPerPx;
  const base = slideToRow(d.baseStripPx, view, y0, slope, scatterPx);
  const offPx = Math.abs(base[1] - y0 - slope * base[0]);
  const limitPx = Math.max(LEAST_OFF_ROW_MM / strip.mmPerPx, OFF_ROW_SDS * scatterPx);
  if (offPx <= limitPx) return { ...d, baseStripPx: base };
  const kind: PlantKind = d.kind === 'plant' ? 'weed' : d.kind;
  return { ...d, kind, confidence: d.confidence * Math.exp(-0.5 * OFF_ROW_SDS * (offPx / limitPx) ** 2) };
}

/**
 * Moves a base along its line of sight toward the row line y = y0 + slope x: as far as the doubt along the sight, which
 * grows with the viewing angle, outweighs the row's own scatter; never so far that a plant of another row reaches it.
 */
function slideToRow(base: Point, view: CameraView, y0: number, slope: number, scatterPx: number): Point {
  const { away, tangent } = leanAt(view, base);
  const towardRow = away[1] - slope * away[0];
  const sightPx = (SIGHT_SD_MM_PER_TANGENT * tangent) / view.mmPerPx;
  const seen = (sightPx * towardRow) ** 2;
  if (seen < 1e-9) return base;
  const off = base[1] - y0 - slope * base[0];
  const step = (-off * towardRow * sightPx ** 2) / (seen + scatterPx ** 2);
  const held = Math.max(-3 * sightPx, Math.min(3 * sightPx, step));
  return [base[0] + held * away[0], base[1] + held * away[1]];
}
