import type { Point } from '../geometry/point.ts';
import type { DetectorCard } from './detectorCard.ts';
import type { ModelTensor } from './modelRunner.ts';
import type { Sight } from './samePlant.ts';

const LEAF_MAP = 7;
const GREEN = 0.35;
/** The walk crosses hidden or unseen parts of a stem up to this long. */
const MOST_GAP_MM = 12;
/** No stem of a seedling is displaced farther than this per unit of the tangent (a stem of 11 cm). */
const MOST_HEIGHT_MM = 110;

/**
 * How far the green under a crown reaches toward the camera's foot, in pixels of the network's input: a walk from the
 * crown along the line of sight over the vegetation map, one cell wide to each side. In a photo from the side the stem
 * stands there and ends at its base, so the base lies at the end of the green or beyond. Zero straight below the camera.
 */
export function visibleStem(
  maps: ModelTensor,
  crownPx: Point,
  { away, tangent }: Sight,
  card: Pick<DetectorCard, 'stride' | 'mmPerPx'>,
): number {
  const [, , h, w] = maps.dims as [number, number, number, number];
  const offset = LEAF_MAP * h * w;
  const most = (MOST_HEIGHT_MM * tangent) / card.mmPerPx;
  const gap = MOST_GAP_MM / card.mmPerPx;
  let last = 0;
  for (let s = 0; s <= most && s - last <= gap; s += card.stride / 2) {
    let green = 0;
    for (let side = -1; side <= 1; side++) {
      const x = Math.round((crownPx[0] - away[0] * s - away[1] * side * card.stride) / card.stride - 0.25);
      const y = Math.round((crownPx[1] - away[1] * s + away[0] * side * card.stride) / card.stride - 0.25);
      if (x >= 0 && y >= 0 && x < w && y < h) green = Math.max(green, maps.data[offset + y * w + x]!);
    }
    if (green >= GREEN) last = s;
  }
  return last;
}
