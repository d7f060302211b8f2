import type { Point } from '../geometry/point.ts';
import type { CameraView } from './cameraView.ts';
import { DIRECTIONS, type LeafPart, type LeafParts } from './leafParts.ts';
import { fromFoot, type Stem } from './stem.ts';

const STEM_WIDTH_MM = 3;
/** A green piece this slim on a stem's line is a piece of the stem. */
const SLIM_MM = 6;
const ASIDE_MM = 4;

/** The leaf parts without what is stem, and a part for each stem. */
export function withStems({ parts, contacts }: LeafParts, stems: readonly Stem[], view: CameraView): LeafParts {
  if (stems.length === 0) return { parts, contacts };
  const leaves = parts.filter((p) => !stems.some((s) => isPieceOf(p, s, view)));
  const ids = new Map(leaves.map((p, k) => [p.id, k]));
  return {
    parts: [...leaves.map((p, k) => ({ ...p, id: k })), ...stems.map((s, k) => stemPart(s, leaves.length + k, view))],
    contacts: contacts.flatMap(({ a, b, passShare }) =>
      ids.has(a) && ids.has(b) ? [{ a: ids.get(a)!, b: ids.get(b)!, passShare }] : [],
    ),
  };
}

function isPieceOf(part: LeafPart, stem: Stem, view: CameraView): boolean {
  if (part.widthMm > SLIM_MM) return false;
  const [length, aside] = fromFoot(stem.topPx, stem.footPx, view);
  const [s, b] = fromFoot(part.centrePx, stem.footPx, view);
  return s > -5 && s < length && Math.abs(b - (aside * s) / length) < ASIDE_MM;
}

function stemPart(stem: Stem, id: number, view: CameraView): LeafPart {
  const { footPx, topPx } = stem;
  const [dx, dy] = [topPx[0] - footPx[0], topPx[1] - footPx[1]];
  const px = Math.sqrt(dx * dx + dy * dy) || 1;
  const lengthMm = px * view.mmPerPx;
  return {
    id,
    areaMm2: STEM_WIDTH_MM * Math.min(lengthMm, 60) * 0.1,
    centrePx: [(footPx[0] + topPx[0]) / 2, (footPx[1] + topPx[1]) / 2],
    lengthMm,
    widthMm: STEM_WIDTH_MM,
    axis: [dx / px, dy / px],
    taper: 0,
    outlinePx: DIRECTIONS.map(([u, v]): Point => (u * dx + v * dy > 0 ? topPx : footPx)),
    solidity: 1,
    index: 0,
    red: 0,
    green: 0,
    cut: false,
    stem,
  };
}
