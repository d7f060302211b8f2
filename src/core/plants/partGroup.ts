import type { Point } from '../geometry/point.ts';
import { apparentMm, type CameraView } from './cameraView.ts';
import { DIRECTIONS, type LeafPart } from './leafParts.ts';

/** Leaf parts taken for one plant. */
export interface PartGroup {
  readonly parts: readonly LeafPart[];
  readonly areaMm2: number;
  /** Longest way across, as the camera sees it. */
  readonly spanMm: number;
  readonly outlinePx: readonly Point[];
  /** Area-weighted middle of the parts. */
  readonly centrePx: Point;
}

export function partGroup(parts: readonly LeafPart[], view: CameraView): PartGroup {
  const areaMm2 = parts.reduce((sum, p) => sum + p.areaMm2, 0);
  const points = parts.flatMap((p) => p.outlinePx);
  const outlinePx = parts.length === 1 ? points : DIRECTIONS.map((d) => furthest(points, d));
  let spanMm = 0;
  for (let i = 0; i < outlinePx.length; i++) {
    for (let j = i + 1; j < outlinePx.length; j++) {
      spanMm = Math.max(spanMm, apparentMm(view, outlinePx[i]!, outlinePx[j]!));
    }
  }
  const centrePx: Point = [
    parts.reduce((sum, p) => sum + p.areaMm2 * p.centrePx[0], 0) / areaMm2,
    parts.reduce((sum, p) => sum + p.areaMm2 * p.centrePx[1], 0) / areaMm2,
  ];
  return { parts, areaMm2, spanMm: spanMm + view.mmPerPx, outlinePx, centrePx };
}

/** Smallest apparent distance between two outlines, in millimetres. */
export function gapMm(view: CameraView, a: readonly Point[], b: readonly Point[]): number {
  const [p, q] = closestPoints(a, b);
  return apparentMm(view, p, q);
}

/** The nearest pair of points of two outlines. */
export function closestPoints(a: readonly Point[], b: readonly Point[]): readonly [Point, Point] {
  let best = Number.POSITIVE_INFINITY;
  let pair: readonly [Point, Point] = [a[0]!, b[0]!];
  for (const p of a) {
    for (const q of b) {
      const d = (p[0] - q[0]) ** 2 + (p[1] - q[1]) ** 2;
      if (d >= best) continue;
      best = d;
      pair = [p, q];
    }
  }
  return pair;
}

function furthest(points: readonly Point[], [dx, dy]: Point): Point {
  let best = points[0]!;
  for (const p of points) if (p[0] * dx + p[1] * dy > best[0] * dx + best[1] * dy) best = p;
  return best;
}
