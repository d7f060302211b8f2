import { norm } from '../geometry/norm.ts';
import type { Point } from '../geometry/point.ts';
import { type CameraView, cameraView, leanAt } from '../plants/cameraView.ts';
import type { Detection, PlantFindings } from '../plants/detection.ts';
import { square } from '../statistics/square.ts';
import type { Strip } from '../straighten/strip.ts';
import { groundToStrip } from '../straighten/stripGround.ts';
import { pairMarks } from './pairMarks.ts';
import { COLOUR_DOUBTS, type Evidence } from './plantChance.ts';

/** One place where network, colour or both see something, with what speaks for a plant. */
export interface Mark {
  readonly detection: Detection;
  readonly evidence: Evidence;
}

/** Bean stems stand about this far to either side of their row line (1 sd), millimetres. Common practice, no source. */
const ROW_SCATTER_MM = 10;
/** Beside the line of sight the network places a base this well. */
const BESIDE_MM = 12;
/** And along it this well, for each unit of the viewing angle's tangent (5 to 18 mm on 41 rendered scenes). */
const SIGHT_SD_MM_PER_TANGENT = 12;
const NEAR_ROW_MM = 60;
const CLEAR = 0.5;
/** Colour's weight in the base where both see one plant: on 43 rendered scenes it narrows the spread from 10.5 to 10.0 mm. */
const COLOUR_SHARE = 1 / 3;
const LIKELY_WEED = 0.2;

interface Row {
  readonly y0: number;
  readonly slope: number;
  readonly sdMm: number;
}

/**
 * Brings both kinds of evidence together: the network's marks with their bases slid along the line of sight toward the
 * row, each paired with colour's group of leaves; then the plants that colour alone sees, where the network knows this
 * crop at all.
 */
export function gatherMarks(network: PlantFindings, colour: PlantFindings, strip: Strip): Mark[] {
  const view = cameraView(strip);
  const row = rowInStrip(colour.rowLine ?? network.rowLine, strip);
  const marks = network.detections.map((d) => ({ ...d, baseStripPx: placedBase(d.baseStripPx, view, row) }));
  const groups = colour.detections.filter((c) => c.kind !== 'weed' || c.confidence > LIKELY_WEED);
  const partner = pairMarks(marks, groups, view);
  const both = marks.map((d, i) => {
    const group = groupOf(groups, partner[i]!);
    return { d: withGroup(d, group), network: d as Detection | null, colour: group };
  });
  const alone = groups
    .filter((c, j) => c.kind === 'plant' && !partner.includes(j))
    .map((d) => ({ d, network: null, colour: d as Detection | null }));
  const knows = networkKnows(
    marks.filter((d) => offRowMm(d, row, view) < NEAR_ROW_MM),
    alone.map((m) => m.d),
  );
  // leaves alone do not make a row where the network sees none of its crop
  const all = knows ? [...both, ...alone] : both.map((m) => ({ ...m, colour: null }));

  const strength = all.map((m) => (m.network?.confidence ?? 0) + colourChance(m.colour, 0));
  return all.map(({ d, network: seen, colour: group }, i) => {
    const { away, tangent } = leanAt(view, d.baseStripPx);
    const apart = all.map((other, k) =>
      strength[k]! > strength[i]!
        ? norm(d.baseStripPx[0] - other.d.baseStripPx[0], (d.baseStripPx[1] - other.d.baseStripPx[1]) / 2)
        : Number.POSITIVE_INFINITY,
    );
    return {
      detection: d,
      evidence: {
        network: seen?.confidence ?? null,
        colour: group === null ? null : colourChance(group, COLOUR_DOUBTS),
        networkSaysWeed: seen?.kind === 'weed',
        strongerMm: Math.min(...apart) * view.mmPerPx,
        offRowMm: offRowMm(d, row, view) / norm(1, Math.abs(away[1]) * tangent),
        alongTangent: Math.abs(away[0]) * tangent,
      },
    };
  });
}

function rowInStrip(line: PlantFindings['rowLine'], strip: Strip): Row | null {
  if (line === null) return null;
  const [, y0] = groundToStrip(strip, [strip.alongAtLeftM, line.acrossAtZeroM + line.slope * strip.alongAtLeftM]);
  return { y0, slope: -line.slope, sdMm: line.sdM * 1000 };
}

/**
 * The base where the stem meets the soil, slid along its line of sight toward the row as far as the doubt along the sight
 * outweighs the row's scatter and the doubt beside the sight.
 */
function placedBase(base: Point, view: CameraView, row: Row | null): Point {
  const { away, tangent } = leanAt(view, base);
  const [x, y] = base;
  if (row === null) return base;
  const towardRow = away[1] - row.slope * away[0];
  const sightPx = (SIGHT_SD_MM_PER_TANGENT * tangent) / view.mmPerPx;
  const scatterPx = norm(Math.max(ROW_SCATTER_MM, row.sdMm), BESIDE_MM) / view.mmPerPx;
  const seen = square(sightPx * towardRow);
  if (seen < 1e-9) return base;
  const off = y - row.y0 - row.slope * x;
  const step = (-off * towardRow * square(sightPx)) / (seen + square(scatterPx));
  const held = Math.max(-3 * sightPx, Math.min(3 * sightPx, step));
  return [x + held * away[0], y + held * away[1]];
}

/** The base by both, where colour too is sure of one plant. */
function withGroup(mark: Detection, group: Detection | null): Detection {
  if (group === null || group.kind !== 'plant' || group.confidence <= CLEAR) return mark;
  const between = (k: 0 | 1) => mark.baseStripPx[k] + COLOUR_SHARE * (group.baseStripPx[k] - mark.baseStripPx[k]);
  return { ...mark, baseStripPx: [between(0), between(1)] };
}

function offRowMm({ baseStripPx: [x, y] }: Detection, row: Row | null, view: CameraView): number {
  return row === null ? 0 : Math.abs(y - row.y0 - row.slope * x) * view.mmPerPx;
}

function groupOf(groups: readonly Detection[], at: number | null): Detection | null {
  return at === null ? null : groups[at]!;
}

function colourChance(group: Detection | null, otherwise: number): number {
  if (group === null) return 0;
  return group.kind === 'plant' ? group.confidence : otherwise;
}

/** A network that sees next to nothing where colour sees a row may not know the crop, or there is none. */
function networkKnows(marks: readonly Detection[], alone: readonly Detection[]): boolean {
  const clear = (all: readonly Detection[]): number =>
    all.filter((d) => d.kind === 'plant' && d.confidence >= CLEAR).length;
  return clear(marks) > 0 && 2 * clear(marks) >= clear(alone);
}
