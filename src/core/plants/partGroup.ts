import { norm } from '../geometry/norm.ts';
import type { Point } from '../geometry/point.ts';
import { square } from '../statistics/square.ts';
import { apparentMm, type CameraView, leanAt } from './cameraView.ts';
import { DIRECTIONS, type LeafPart } from './leafParts.ts';
import { starFit } from './starFit.ts';
import type { Stem } from './stem.ts';

/** Leaf parts taken for one plant. */
export interface PartGroup {
  readonly parts: readonly LeafPart[];
  /** Stems among the parts, and the number of the others. */
  readonly stems: readonly Stem[];
  readonly leaves: number;
  readonly areaMm2: number;
  /** Longest way across, as the camera sees it. */
  readonly spanMm: number;
  readonly outlinePx: readonly Point[];
  /** Area-weighted middle of the parts. */
  readonly centrePx: Point;
  /** Where its leaves meet, and how poorly they do. */
  readonly crownPx: Point;
  readonly starCost: number;
}

/** Puts parts together; remembers what it has put together before. */
export type Grouper = (parts: readonly LeafPart[]) => PartGroup;

/** How likely a group is one plant: a log-likelihood. */
export type GroupJudge = (group: PartGroup) => number;

/** A grouper for one photo. `lobeMm` is the length of its typical large lobe. */
export function makeGrouper(view: CameraView, lobeMm: number): Grouper {
  const known = new Map<number, PartGroup>();
  return (parts) => {
    const key = setKey(parts);
    let group = known.get(key);
    if (group === undefined) {
      group = partGroup(parts, view, lobeMm);
      known.set(key, group);
    }
    return group;
  };
}

/**
 * One number for a set of parts, whatever their order: the exclusive or of 53 well-mixed bits for each id (Zobrist 1970;
 * the mixing constants are those of MurmurHash3, Appleby 2011).
 */
function setKey(parts: readonly LeafPart[]): number {
  let high = 0;
  let low = 0;
  for (const { id } of parts) {
    high ^= mixed(2 * id + 1);
    low ^= mixed(2 * id + 2);
  }
  return (high >>> 0) * 0x200000 + (low >>> 11);
}

function mixed(id: number): number {
  let h = Math.imul(id, 0x9e3779b1);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}

function partGroup(parts: readonly LeafPart[], view: CameraView, lobeMm: number): PartGroup {
  let areaMm2 = 0;
  let sumX = 0;
  let sumY = 0;
  const stems = parts.filter((p) => p.stem !== null);
  const leaves = stems.length === parts.length ? parts : parts.filter((p) => p.stem === null);
  for (const { areaMm2: a, centrePx } of leaves) {
    areaMm2 += a;
    sumX += a * centrePx[0];
    sumY += a * centrePx[1];
  }
  const centrePx: Point = [sumX / areaMm2, sumY / areaMm2];
  const outlinePx = leaves.length === 1 ? leaves[0]!.outlinePx : unionOutline(leaves);
  const { crownPx, cost } = starFit(parts, centrePx, view, lobeMm);
  return {
    parts,
    stems: stems.map((p) => p.stem!),
    leaves: stems.length === parts.length ? 0 : leaves.length,
    areaMm2,
    spanMm: spanOf(outlinePx, centrePx, view),
    outlinePx,
    centrePx,
    crownPx,
    starCost: cost,
  };
}

/** The extreme of a union in a direction is the extreme of one of its members in that direction. */
function unionOutline(parts: readonly LeafPart[]): readonly Point[] {
  return DIRECTIONS.map(([dx, dy], k) => {
    let best = parts[0]!.outlinePx[k]!;
    for (const { outlinePx } of parts) {
      const p = outlinePx[k]!;
      if (p[0] * dx + p[1] * dy > best[0] * dx + best[1] * dy) best = p;
    }
    return best;
  });
}

const flatX = new Float64Array(DIRECTIONS.length);
const flatY = new Float64Array(DIRECTIONS.length);

function spanOf(outline: readonly Point[], centre: Point, view: CameraView): number {
  const { away, tangent } = leanAt(view, centre);
  const shorten = 1 - 1 / norm(1, tangent);
  const n = outline.length;
  for (let k = 0; k < n; k++) {
    const [x, y] = outline[k]!;
    const lift = shorten * (x * away[0] + y * away[1]);
    flatX[k] = x - lift * away[0];
    flatY[k] = y - lift * away[1];
  }
  let longest = 0;
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const dx = flatX[i]! - flatX[j]!;
      const dy = flatY[i]! - flatY[j]!;
      const d2 = dx * dx + dy * dy;
      if (d2 > longest) longest = d2;
    }
  }
  return (Math.sqrt(longest) + 1) * view.mmPerPx;
}

/** Smallest apparent distance between two outlines, in millimetres. */
export function gapMm(view: CameraView, a: readonly Point[], b: readonly Point[]): number {
  let best = Number.POSITIVE_INFINITY;
  let from = a[0]!;
  let to = b[0]!;
  for (const p of a) {
    for (const q of b) {
      const d = square(p[0] - q[0]) + square(p[1] - q[1]);
      if (d >= best) continue;
      best = d;
      from = p;
      to = q;
    }
  }
  return apparentMm(view, from, to);
}
