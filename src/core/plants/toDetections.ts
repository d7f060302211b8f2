import { apparentMm, type CameraView, leanAt } from './cameraView.ts';
import { cropChance } from './cropChance.ts';
import type { Detection, PlantKind } from './detection.ts';
import type { PlantScale } from './groupScore.ts';
import type { PartGroup } from './partGroup.ts';
import type { StripRow } from './rowParts.ts';
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

/** Plants, weeds and doubtful marks from groups of leaves, in order along the row; neighbour rows are left out. */
export function toDetections(groups: readonly PartGroup[], scene: Scene): readonly Detection[] {
  const found: Omit<Detection, 'id'>[] = [];
  for (const group of groups) {
    const detection = toDetection(group, groups, scene);
    if (detection !== null) found.push(detection);
  }
  found.sort((a, b) => a.baseStripPx[0] - b.baseStripPx[0] || a.baseStripPx[1] - b.baseStripPx[1]);
  return found.map((d, k) => ({ id: `p${k + 1}`, ...d }));
}

function toDetection(group: PartGroup, groups: readonly PartGroup[], scene: Scene): Omit<Detection, 'id'> | null {
  const { view, scale, row } = scene;
  const ratio = group.areaMm2 / scale.areaMm2;
  const heightMm = scene.heightMm * Math.min(1, Math.sqrt(ratio));
  const { crownPx } = group;
  const free = stemBase(group, view, heightMm, null);
  const { away } = leanAt(view, crownPx);

  let offRow: number | null = null;
  if (row !== null) {
    const offMm = (free.basePx[1] - row.y0 - row.slope * free.basePx[0]) * view.mmPerPx;
    if (scene.rowWidthMm !== null && Math.abs(offMm) > 0.6 * scene.rowWidthMm) return null;
    const sightSdMm = free.alongSightSdMm * Math.abs(away[1]);
    offRow = Math.abs(offMm) / Math.hypot(row.sdPx * view.mmPerPx, sightSdMm, 0.15 * scale.spanMm, 10);
  }
  let crowding = Number.POSITIVE_INFINITY;
  for (const other of groups) {
    if (other === group || other.areaMm2 < group.areaMm2) continue;
    crowding = Math.min(crowding, apparentMm(view, other.centrePx, group.centrePx) / scale.spanMm);
  }
  const confidence = scene.doubt * cropChance({ group, offRow, crowding }, scale);
  const kind: PlantKind = confidence >= SURE_FROM ? 'plant' : confidence >= UNSURE_FROM ? 'unsure' : 'weed';
  const base = kind === 'plant' && row !== null ? stemBase(group, view, heightMm, row) : free;
  const double = Math.min(0.5, 0.02 + DOUBLE_RISE * Math.max(0, ratio - DOUBLE_FROM));
  const xs = group.outlinePx.map((p) => p[0]);
  const ys = group.outlinePx.map((p) => p[1]);
  return {
    baseStripPx: base.basePx,
    crownStripPx: crownPx,
    kind,
    confidence,
    doubleChance: Math.min(double * confidence, 1 - confidence),
    leafAreaMm2: group.areaMm2,
    boxStripPx: [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)],
    alongSdMm: Math.hypot(away[0] * base.alongSightSdMm, away[1] * base.besideSdMm),
  };
}
