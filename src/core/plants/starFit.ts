import type { Point } from '../geometry/point.ts';
import { apparentMm, type CameraView } from './cameraView.ts';
import type { LeafPart } from './leafParts.ts';
import { closestPoints, type PartGroup } from './partGroup.ts';

export interface StarFit {
  /** Where the leaves meet. */
  readonly crownPx: Point;
  /** 0 for a perfect star, larger for a poorer one (a negative log-likelihood without constant). */
  readonly cost: number;
}

/** Petioles and the hidden stem hold a leaf's edge about this share of a leaf's length from the crown. */
const PETIOLE_SHARE = 0.35;
const AXIS_COST = 1.2;
const BALANCE_COST = 1.6;

/**
 * How well the parts of a group make one plant seen from the camera: leaves come off one crown, each reaching near it,
 * each with its long axis through it, and opposite leaves balance. The crown is the best of a few places: the middle
 * of the area, the meeting of the two largest parts, the middle of small parts (cotyledons, buds).
 */
export function starFit(group: PartGroup, view: CameraView, lobeMm: number): StarFit {
  const { parts, centrePx } = group;
  if (parts.length === 1) return { crownPx: centrePx, cost: 0 };
  const sorted = [...parts].sort((a, b) => b.areaMm2 - a.areaMm2);
  const [p, q] = closestPoints(sorted[0]!.outlinePx, sorted[1]!.outlinePx);
  const candidates: Point[] = [centrePx, [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2]];
  for (const s of sorted.slice(1, 5))
    if (s.areaMm2 < 0.3 * sorted[0]!.areaMm2 && s.areaMm2 > 0.03 * group.areaMm2) candidates.push(s.centrePx);
  let best: StarFit = { crownPx: centrePx, cost: Number.POSITIVE_INFINITY };
  for (const crownPx of candidates) {
    const cost = starCost(group, crownPx, view, lobeMm);
    if (cost < best.cost) best = { crownPx, cost };
  }
  return best;
}

function starCost({ parts, areaMm2 }: PartGroup, crown: Point, view: CameraView, lobeMm: number): number {
  let cost = 0;
  let pullX = 0;
  let pullY = 0;
  for (const part of parts) {
    const share = part.areaMm2 / areaMm2;
    const weight = Math.min(1, 3 * share);
    const gap = reachMm(part, crown, view) / (PETIOLE_SHARE * Math.min(lobeMm, 1.6 * Math.sqrt(areaMm2)));
    const dx = part.centrePx[0] - crown[0];
    const dy = part.centrePx[1] - crown[1];
    const d = Math.hypot(dx, dy);
    const far = d * view.mmPerPx > 0.15 * part.lengthMm;
    const along = far ? ((dx * part.axis[0] + dy * part.axis[1]) / d) ** 2 : 1;
    const long = Math.min(1, Math.max(0, part.lengthMm / part.widthMm - 1.1));
    cost += weight * (0.5 * gap * gap + AXIS_COST * long * (1 - along));
    if (far) {
      pullX += (share * dx) / d;
      pullY += (share * dy) / d;
    }
  }
  return cost + BALANCE_COST * Math.hypot(pullX, pullY) ** 2;
}

/** Apparent distance from the crown to the nearest edge of a part; 0 when the crown lies on it. */
function reachMm(part: LeafPart, crown: Point, view: CameraView): number {
  if (inside(part.outlinePx, crown)) return 0;
  let best = Number.POSITIVE_INFINITY;
  for (let k = 0; k < part.outlinePx.length; k++) {
    const near = nearestOnSegment(crown, part.outlinePx[k]!, part.outlinePx[(k + 1) % part.outlinePx.length]!);
    best = Math.min(best, apparentMm(view, crown, near));
  }
  return best;
}

/** The outline runs once round in rising angle, so a point inside is on one side of every edge. */
function inside(outline: readonly Point[], [x, y]: Point): boolean {
  for (let k = 0; k < outline.length; k++) {
    const [x0, y0] = outline[k]!;
    const [x1, y1] = outline[(k + 1) % outline.length]!;
    if ((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0) < -1e-9) return false;
  }
  return true;
}

function nearestOnSegment([x, y]: Point, [x0, y0]: Point, [x1, y1]: Point): Point {
  const dx = x1 - x0;
  const dy = y1 - y0;
  const len2 = dx * dx + dy * dy;
  const t = len2 === 0 ? 0 : Math.max(0, Math.min(1, ((x - x0) * dx + (y - y0) * dy) / len2));
  return [x0 + t * dx, y0 + t * dy];
}
