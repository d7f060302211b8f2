import { type CameraView, leanAt } from '../plants/cameraView.ts';
import type { Detection } from '../plants/detection.ts';

/** Stem bases nearer than this are one plant whose leaves were marked twice, unless both marks carry much leaf. */
const SAME_BASE_MM = 14;
const SMALL_SHARE = 0.35;
const SMALL_WITHIN_MM = 45;
/** Doubt of a base along the line of sight for each unit of the viewing angle's tangent, millimetres. */
const SIGHT_MM_PER_TANGENT = 25;

/**
 * Drops the weaker of two marks of one plant. A plant's cotyledons and leaves stand at different heights on one line of
 * sight, so from the side or along the row the network can mark both. Two marks are one plant when their bases lie
 * within the doubt along the row and colour sees one plant there, or when the second carries little leaf of its own.
 * Marks not called plants are left alone.
 */
export function dropSecondMarks(
  marks: readonly Detection[],
  colour: readonly Detection[],
  view: CameraView,
): Detection[] {
  const strongest = marks.filter((d) => d.kind === 'plant').sort((a, b) => b.confidence - a.confidence);
  const kept: Detection[] = [];
  const dropped = new Set<Detection>();
  for (const mark of strongest) {
    const twin = kept.find((other) => isSamePlant(mark, other, colour, view));
    if (twin === undefined) kept.push(mark);
    else dropped.add(mark);
  }
  return marks.filter((d) => !dropped.has(d));
}

function isSamePlant(a: Detection, b: Detection, colour: readonly Detection[], view: CameraView): boolean {
  const { mmPerPx } = view;
  const apartMm = Math.abs(a.baseStripPx[0] - b.baseStripPx[0]) * mmPerPx;
  const acrossMm = Math.abs(a.baseStripPx[1] - b.baseStripPx[1]) * mmPerPx;
  const small = Math.min(a.leafAreaMm2, b.leafAreaMm2) < SMALL_SHARE * Math.max(a.leafAreaMm2, b.leafAreaMm2);
  const { away, tangent } = leanAt(view, a.baseStripPx);
  const sightMm = SIGHT_MM_PER_TANGENT * tangent * Math.abs(away[0]);
  const nearMm = SAME_BASE_MM + sightMm;
  if (acrossMm > nearMm + SMALL_WITHIN_MM) return false;
  if (small && apartMm < SMALL_WITHIN_MM && shareGroup(a, b, colour)) return true;
  return apartMm < nearMm && (small || sightMm > SAME_BASE_MM) && shareGroup(a, b, colour);
}

/** Whether colour puts both marks under one plant. */
function shareGroup(a: Detection, b: Detection, colour: readonly Detection[]): boolean {
  const inside = (d: Detection, [left, top, right, bottom]: Detection['boxStripPx']) => {
    const [x, y] = d.crownStripPx;
    return x >= left && x <= right && y >= top && y <= bottom;
  };
  return colour.some((group) => group.kind !== 'weed' && inside(a, group.boxStripPx) && inside(b, group.boxStripPx));
}
