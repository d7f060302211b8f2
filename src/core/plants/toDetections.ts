import { norm } from '../geometry/norm.ts';
import { apparentMm, type CameraView, leanAt } from './cameraView.ts';
import { cropChance } from './cropChance.ts';
import type { Detection, PlantKind } from './detection.ts';
import type { PlantScale } from './groupScore.ts';
import type { PartGroup } from './partGroup.ts';
import { offColour, type RowColour, rowColour } from './rowColour.ts';
import { offRowMm, type StripRow } from './rowParts.ts';
import { LEAST_TANGENT } from './stem.ts';
import { stemBase } from './stemBase.ts';

export interface Scene {
  readonly view: CameraView;
  readonly scale: PlantScale;
  /** Null where no row line is known. */
  readonly row: StripRow | null;
  /** Expected height of a typical plant's crown. */
  readonly heightMm: number;
  readonly rowWidthMm: number | null;
  /** 1, or less where the whole picture is doubtful: multiplies every confidence. */
  readonly doubt: number;
}

const SURE_FROM = 0.5;
const UNSURE_FROM = 0.22;
/** Leaf area over the typical from which a group may hide a second plant, and how fast that chance rises. */
const DOUBLE_FROM = 1.3;
const DOUBLE_RISE = 0.35;
/** The chance of a second plant in any mark, and what a box wholly shared with neighbours adds: hidden plants. */
const LEAST_DOUBLE = 0.02;
const CROWDED_DOUBLE = 0.2;
const MOST_DOUBLE = 0.5;

/** Plants, weeds and doubtful marks from groups of leaves, in order along the row; neighbour rows are left out. */
export function toDetections(groups: readonly PartGroup[], scene: Scene): readonly Detection[] {
  const colour = scene.row === null ? null : rowColour(onRow(groups, scene), scene.scale);
  const found: Omit<Detection, 'id'>[] = [];
  for (const group of groups) {
    const detection = toDetection(group, groups, scene, colour);
    if (detection !== null) found.push(detection);
  }
  found.sort((a, b) => a.baseStripPx[0] - b.baseStripPx[0] || a.baseStripPx[1] - b.baseStripPx[1]);
  return found.map((d, k) => ({ id: `p${k + 1}`, ...d }));
}

/** Groups that may stand on the row. */
function onRow(groups: readonly PartGroup[], { view, row, heightMm }: Scene): readonly PartGroup[] {
  return groups.filter((g) => offRowMm(g.crownPx, row!, view, 1.5 * heightMm) < 40);
}

function toDetection(
  group: PartGroup,
  groups: readonly PartGroup[],
  scene: Scene,
  colour: RowColour | null,
): Omit<Detection, 'id'> | null {
  const { view, scale, row } = scene;
  if (group.leaves === 0 && scene.row === null) return null;
  const ratio = group.areaMm2 / scale.areaMm2;
  const heightMm = scene.heightMm * Math.min(1, Math.sqrt(ratio));
  const { crownPx } = group;
  const free = stemBase(group, view, heightMm, null);
  const { away, tangent } = leanAt(view, crownPx);

  let offRow: number | null = null;
  if (row !== null) {
    const offMm = (free.basePx[1] - row.y0 - row.slope * free.basePx[0]) * view.mmPerPx;
    if (scene.rowWidthMm !== null && Math.abs(offMm) > 0.6 * scene.rowWidthMm) return null;
    const sightSdMm = free.alongSightSdMm * Math.abs(away[1]);
    offRow = Math.abs(offMm) / norm(row.sdPx * view.mmPerPx, sightSdMm, 0.15 * scale.spanMm, 10);
  }
  let crowding = Number.POSITIVE_INFINITY;
  for (const other of groups) {
    if (other === group || other.areaMm2 < group.areaMm2) continue;
    crowding = Math.min(crowding, apparentMm(view, other.centrePx, group.centrePx) / scale.spanMm);
  }
  const any =
    scene.doubt *
    cropChance(
      {
        group,
        offRow,
        crowding,
        offColour: colour === null ? 0 : offColour(group, colour, scale),
        side: tangent > LEAST_TANGENT && Math.abs(away[1]) > 0.5,
      },
      scale,
    );
  const kind: PlantKind = any >= SURE_FROM ? 'plant' : any >= UNSURE_FROM ? 'unsure' : 'weed';
  const base = kind === 'plant' && row !== null ? stemBase(group, view, heightMm, row) : free;
  const more = Math.min(
    MOST_DOUBLE,
    LEAST_DOUBLE + DOUBLE_RISE * Math.max(0, ratio - DOUBLE_FROM) + CROWDED_DOUBLE * sharedShare(group, groups),
  );
  return {
    baseStripPx: base.basePx,
    crownStripPx: crownPx,
    kind,
    confidence: any * (1 - more),
    doubleChance: any * more,
    leafAreaMm2: group.areaMm2,
    boxStripPx: boxOf(group),
    alongSdMm: norm(away[0] * base.alongSightSdMm, away[1] * base.besideSdMm),
  };
}

/** Share of a group's box that lies under the boxes of other groups, at most 1. */
function sharedShare(group: PartGroup, groups: readonly PartGroup[]): number {
  const a = boxOf(group);
  const area = (a[2] - a[0] + 1) * (a[3] - a[1] + 1);
  let shared = 0;
  for (const other of groups) {
    if (other === group) continue;
    const b = boxOf(other);
    const width = Math.min(a[2], b[2]) - Math.max(a[0], b[0]);
    const height = Math.min(a[3], b[3]) - Math.max(a[1], b[1]);
    if (width > 0 && height > 0) shared += width * height;
  }
  return Math.min(1, shared / area);
}

function boxOf({ outlinePx }: PartGroup): readonly [number, number, number, number] {
  const xs = outlinePx.map((p) => p[0]);
  const ys = outlinePx.map((p) => p[1]);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}
