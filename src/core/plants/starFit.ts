import { norm } from '../geometry/norm.ts';
import type { Point } from '../geometry/point.ts';
import { square } from '../statistics/square.ts';
import { type CameraView, leanAt } from './cameraView.ts';
import type { LeafPart } from './leafParts.ts';
import { fromFoot, type Stem } from './stem.ts';

export interface StarFit {
  /** Where the leaves meet. */
  readonly crownPx: Point;
  /** 0 for a perfect star, larger for a poorer one (a negative log-likelihood without constant). */
  readonly cost: number;
}

/** Petioles and the hidden stem hold a leaf's edge about this share of a leaf's length from the crown. */
const PETIOLE_SHARE = 0.35;
const AXIS_COST = 1.6;
const BALANCE_COST = 1.6;
/** A leaf whose tip points at the crown: counted from the first skewness along its axis on, fully from the second. */
const TURNED_COST = 0.5;
const TAPER = { from: 0.05, full: 0.15 } as const;
/** Parts smaller than the first share of the largest may be cotyledons or buds at the crown; below the second, specks. */
const BUD_SHARE = 0.3;
const SPECK_SHARE = 0.03;
const MOST_BUDS = 4;
/** How far a crown stands beside its stem's straight line. */
const STEM_BEND_MM = 6;

/**
 * How well some parts make one plant seen from the camera: leaves come off one crown, each reaching near it, each with
 * its long axis through it and its tip away from it, and opposite leaves balance. The crown is taken among a few places (the
 * middle of the area, the meeting of the two largest parts, the middle of small parts: cotyledons, buds), each weighted
 * by its likelihood. Distances are as the camera sees
 * them: the direction away from it is shortened by the cosine of the viewing angle at the middle of the group.
 *
 * @param lobeMm length of a typical large lobe of this photo, which petioles go with.
 */
export function starFit(parts: readonly LeafPart[], centrePx: Point, view: CameraView, lobeMm: number): StarFit {
  if (parts.length === 1) return { crownPx: parts[0]!.stem?.topPx ?? centrePx, cost: 0 };
  const stems = parts.flatMap((p) => (p.stem === null ? [] : [p.stem]));
  const leaves = stems.length === 0 ? parts : parts.filter((p) => p.stem === null);
  if (leaves.length === 0) return { crownPx: stems[0]!.topPx, cost: 0 };
  const areaMm2 = leaves.reduce((sum, p) => sum + p.areaMm2, 0);
  const sorted = [...leaves].sort((a, b) => b.areaMm2 - a.areaMm2 || a.id - b.id);
  const candidates: Point[] = [centrePx];
  if (sorted.length > 1) candidates.push(meeting(sorted[0]!.outlinePx, sorted[1]!.outlinePx));
  for (const s of sorted.slice(1, 1 + MOST_BUDS)) {
    if (s.areaMm2 < BUD_SHARE * sorted[0]!.areaMm2 && s.areaMm2 > SPECK_SHARE * areaMm2) candidates.push(s.centrePx);
  }
  if (stems.length > 0) {
    candidates.push(...candidates.map((c) => onStem(c, stems[0]!, view)), stems[0]!.topPx);
  }
  const petioleMm = PETIOLE_SHARE * Math.min(lobeMm, 1.6 * Math.sqrt(areaMm2));
  const { away, tangent } = leanAt(view, centrePx);
  const shorten = 1 - 1 / norm(1, tangent);
  const costs = candidates.map(
    (crown) =>
      starCost(leaves, areaMm2, crown, petioleMm / view.mmPerPx, view.mmPerPx, away, shorten) +
      stemCost(stems, crown, petioleMm, view),
  );
  const least = Math.min(...costs);
  let weights = 0;
  let x = 0;
  let y = 0;
  for (const [k, cost] of costs.entries()) {
    const weight = Math.exp(-2 * (cost - least));
    weights += weight;
    x += weight * candidates[k]![0];
    y += weight * candidates[k]![1];
  }
  return { crownPx: [x / weights, y / weights], cost: least };
}

function starCost(
  parts: readonly LeafPart[],
  areaMm2: number,
  crown: Point,
  petiolePx: number,
  mmPerPx: number,
  away: Point,
  shorten: number,
): number {
  let cost = 0;
  let pullX = 0;
  let pullY = 0;
  for (const part of parts) {
    const share = part.areaMm2 / areaMm2;
    const weight = Math.min(1, 3 * share);
    const gap = reachPx(part.outlinePx, crown, away, shorten) / petiolePx;
    const dx = part.centrePx[0] - crown[0];
    const dy = part.centrePx[1] - crown[1];
    const d = norm(dx, dy);
    const far = d * mmPerPx > 0.15 * part.lengthMm;
    const cos = far ? (dx * part.axis[0] + dy * part.axis[1]) / d : 1;
    const tapered = Math.max(0, Math.min(1, (part.taper - TAPER.from) / (TAPER.full - TAPER.from)));
    const long = Math.min(1, Math.max(0, part.lengthMm / part.widthMm - 1.1));
    cost += weight * (0.5 * gap * gap + long * (AXIS_COST * (1 - cos * cos) + TURNED_COST * tapered * 0.5 * (1 - cos)));
    if (far) {
      pullX += (share * dx) / d;
      pullY += (share * dy) / d;
    }
  }
  return cost + BALANCE_COST * (pullX * pullX + pullY * pullY);
}

/**
 * Apparent distance from the crown to the nearest edge of an outline in pixels; 0 when the crown lies within. The
 * outline runs once round in rising angle, so a point inside is on one side of every edge.
 */
function reachPx(outline: readonly Point[], crown: Point, away: Point, shorten: number): number {
  let inside = true;
  let best = Number.POSITIVE_INFINITY;
  let from = outline[outline.length - 1]!;
  let fromX = from[0] - crown[0];
  let fromY = from[1] - crown[1];
  let lift = shorten * (fromX * away[0] + fromY * away[1]);
  let ax = fromX - lift * away[0];
  let ay = fromY - lift * away[1];
  for (let k = 0; k < outline.length; k++) {
    from = outline[k]!;
    fromX = from[0] - crown[0];
    fromY = from[1] - crown[1];
    lift = shorten * (fromX * away[0] + fromY * away[1]);
    const bx = fromX - lift * away[0];
    const by = fromY - lift * away[1];
    const ex = bx - ax;
    const ey = by - ay;
    if (ex * ay - ey * ax > 1e-9) inside = false;
    const length2 = ex * ex + ey * ey;
    const t = length2 === 0 ? 0 : Math.max(0, Math.min(1, -(ax * ex + ay * ey) / length2));
    const px = ax + t * ex;
    const py = ay + t * ey;
    const d2 = px * px + py * py;
    if (d2 < best) best = d2;
    ax = bx;
    ay = by;
  }
  return inside ? 0 : Math.sqrt(best);
}

/** The middle between the nearest points of two outlines. */
function meeting(a: readonly Point[], b: readonly Point[]): Point {
  let best = Number.POSITIVE_INFINITY;
  let at: Point = a[0]!;
  for (const p of a) {
    for (const q of b) {
      const d = square(p[0] - q[0]) + square(p[1] - q[1]);
      if (d >= best) continue;
      best = d;
      at = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
    }
  }
  return at;
}

/** A stem runs up to the crown; it may bend a little on the way. */
function stemCost(stems: readonly Stem[], crown: Point, petioleMm: number, view: CameraView): number {
  let cost = 0;
  for (const { footPx, topPx } of stems) {
    const [length, aside] = fromFoot(topPx, footPx, view);
    const [s, b] = fromFoot(crown, footPx, view);
    const off = (b - (aside * s) / Math.max(1, length)) / (STEM_BEND_MM + 0.18 * Math.max(0, s));
    const over = Math.min(2, Math.max(0, (s - length) / 2, 10 - s) / petioleMm);
    cost += 0.5 * (off * off + over * over);
  }
  return cost;
}

/** The place on a stem's line at the height of another place. */
function onStem(p: Point, { footPx, topPx }: Stem, view: CameraView): Point {
  const [length] = fromFoot(topPx, footPx, view);
  const [s] = fromFoot(p, footPx, view);
  const t = Math.max(0, Math.min(1.3, s / Math.max(1, length)));
  return [footPx[0] + t * (topPx[0] - footPx[0]), footPx[1] + t * (topPx[1] - footPx[1])];
}
