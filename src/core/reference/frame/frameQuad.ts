import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import { type Ribbon, ribbonOffset, ribbonPoint, ribbonWidth } from '../line/ribbon.ts';

export interface FrameBar {
  readonly ribbon: Ribbon;
  /** Share of cross-sections that show both edges. */
  readonly edgeShare: number;
}

export interface FrameQuad {
  /** The inside corners, clockwise in the picture. */
  readonly corners: readonly [Point, Point, Point, Point];
  /** Bar k runs from corner k to corner k + 1. */
  readonly bars: readonly [FrameBar, FrameBar, FrameBar, FrameBar];
  /** Length of the inside outline that bars account for, pixels. */
  readonly supportPx: number;
}

/** Of each side so much must be bar, and bars must be about equally wide. */
const LEAST_COVER = 0.55;
const WIDEST_RATIO = 2.3;

/** Every rectangle-like arrangement of four bars, best supported first. */
export function frameQuads(bars: readonly FrameBar[], widthPx: number, heightPx: number): FrameQuad[] {
  const quads: FrameQuad[] = [];
  const n = bars.length;
  for (let a = 0; a < n; a++) {
    for (let c = a + 1; c < n; c++) {
      if (meets(bars[a]!, bars[c]!)) continue;
      for (let b = 0; b < n; b++) {
        for (let d = b + 1; d < n; d++) {
          // Each pair of pairs once.
          if (a > b || b === a || b === c || d === a || d === c) continue;
          const quad = quadOf([bars[a]!, bars[b]!, bars[c]!, bars[d]!]);
          if (quad === null) continue;
          const inside = quad.corners.every(([x, y]) => x > 0 && y > 0 && x < widthPx - 1 && y < heightPx - 1);
          if (inside) quads.push(quad);
        }
      }
    }
  }
  return quads.sort((p, q) => q.supportPx - p.supportPx);
}

/** Whether two bars cross within reach of both: then they are neighbours, not opposite sides. */
function meets(a: FrameBar, b: FrameBar): boolean {
  const [p, q] = [line(a.ribbon, 0), line(b.ribbon, 0)];
  const sine = Math.abs(p.dir[0] * q.dir[1] - p.dir[1] * q.dir[0]);
  if (sine < 0.2) return false;
  const at = crossing(p, q);
  return [a, b].every(({ ribbon }) => {
    const s = placeAlong(ribbon, at);
    const reach = 3 * ribbonWidth(ribbon, s);
    return s > ribbon.fromS - reach && s < ribbon.toS + reach;
  });
}

function quadOf(around: readonly FrameBar[]): FrameQuad | null {
  const widths = around.map(({ ribbon }) => ribbonWidth(ribbon, (ribbon.fromS + ribbon.toS) / 2));
  if (Math.max(...widths) > WIDEST_RATIO * Math.min(...widths)) return null;
  const rough = around.map((bar, k) => crossing(line(around[(k + 3) % 4]!.ribbon, 0), line(bar.ribbon, 0)));
  if (!rough.flat().every(Number.isFinite) || !convex(rough)) return null;
  const middle: Point = [mean(rough.map((p) => p[0])), mean(rough.map((p) => p[1]))];
  const inner = around.map(({ ribbon }) => {
    const s = placeAlong(ribbon, middle);
    const beside = ribbonPoint(ribbon, s, 0);
    const [dx, dy] = ribbon.dir;
    const side = -(middle[0] - beside[0]) * dy + (middle[1] - beside[1]) * dx;
    return line(ribbon, side > 0 ? 1 : -1);
  });
  let corners = inner.map((l, k) => crossing(inner[(k + 3) % 4]!, l));
  let bars = [...around];
  if (!corners.flat().every(Number.isFinite) || !convex(corners)) return null;
  const spans = bars.map(({ ribbon }, k) => {
    const [from, to] = [placeAlong(ribbon, corners[k]!), placeAlong(ribbon, corners[(k + 1) % 4]!)].sort(
      (x, y) => x - y,
    ) as [number, number];
    const width = ribbonWidth(ribbon, (from + to) / 2);
    const covered = Math.min(ribbon.toS, to) - Math.max(ribbon.fromS, from);
    // A bar ends at the frame's outside: what runs on far beyond is another thing.
    const beyond = Math.max(0, from - ribbon.fromS, ribbon.toS - to);
    return {
      length: to - from,
      covered,
      share: covered / (to - from),
      ends: beyond < Math.max(4 * width, 0.12 * (to - from)),
    };
  });
  if (spans.some((s) => s.share < LEAST_COVER || !s.ends)) return null;
  const supportPx = spans.reduce((sum, s, k) => sum + s.covered * bars[k]!.edgeShare, 0);
  if (area(corners) < 0) {
    // Walk the other way: corners 3, 2, 1, 0, and the bar from 3 to 2 is bar 2.
    corners = [corners[3]!, corners[2]!, corners[1]!, corners[0]!];
    bars = [bars[2]!, bars[1]!, bars[0]!, bars[3]!];
  }
  return {
    corners: corners as unknown as FrameQuad['corners'],
    bars: bars as unknown as FrameQuad['bars'],
    supportPx,
  };
}

interface Line {
  readonly at: Point;
  readonly dir: Point;
}

/** The straight line along a ribbon: its centre (side 0) or one of its edges (side 1 or -1). */
function line(ribbon: Ribbon, side: -1 | 0 | 1): Line {
  const at = (s: number) => {
    const [dx, dy] = ribbon.dir;
    const v = ribbonOffset(ribbon, s) + (side * ribbonWidth(ribbon, s)) / 2;
    return [ribbon.origin[0] + s * dx - v * dy, ribbon.origin[1] + s * dy + v * dx] as const;
  };
  // Through the quarter points: a little bow cancels.
  const span = ribbon.toS - ribbon.fromS;
  const [p, q] = [at(ribbon.fromS + 0.15 * span), at(ribbon.toS - 0.15 * span)];
  const length = norm(q[0] - p[0], q[1] - p[1]);
  return { at: p, dir: [(q[0] - p[0]) / length, (q[1] - p[1]) / length] };
}

function crossing(a: Line, b: Line): Point {
  const det = a.dir[0] * b.dir[1] - a.dir[1] * b.dir[0];
  const t = ((b.at[0] - a.at[0]) * b.dir[1] - (b.at[1] - a.at[1]) * b.dir[0]) / det;
  return [a.at[0] + t * a.dir[0], a.at[1] + t * a.dir[1]];
}

function placeAlong({ origin, dir }: Ribbon, p: Point): number {
  return (p[0] - origin[0]) * dir[0] + (p[1] - origin[1]) * dir[1];
}

function convex(corners: readonly Point[]): boolean {
  const turns = corners.map((p, k) => {
    const [q, r] = [corners[(k + 1) % 4]!, corners[(k + 2) % 4]!];
    return (q[0] - p[0]) * (r[1] - q[1]) - (q[1] - p[1]) * (r[0] - q[0]);
  });
  return turns.every((t) => t > 0) || turns.every((t) => t < 0);
}

/** Twice the signed area; positive when clockwise in the picture (y down). */
function area(corners: readonly Point[]): number {
  return corners.reduce((sum, p, k) => {
    const q = corners[(k + 1) % 4]!;
    return sum + p[0] * q[1] - q[0] * p[1];
  }, 0);
}

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;
