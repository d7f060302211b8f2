import type { Point } from '../geometry/point.ts';
import type { DetectorCard } from './detectorCard.ts';
import type { ModelTensor } from './modelRunner.ts';

/** One peak of the crown map, in pixels of the network's input. */
export interface Peak {
  readonly score: number;
  readonly weedScore: number;
  readonly crownPx: Point;
  /** Where the stem meets the soil, as the network alone says. */
  readonly basePx: Point;
  /** Chance that two crop plants stand within 20 mm here, as the network says. */
  readonly double: number;
}

const MAPS = 11;
const BASE_UNIT_PX = 16;

/**
 * Peaks of the crop crown map: cells above the floor that are the highest of their 3 x 3 neighbourhood, refined by the
 * regressed offset, the strongest first. The base is the crown plus the regressed vector (Zhou et al., Objects as
 * Points, 2019; the base vector is ours). Throws RangeError when the tensor is not [1, 11, h, w].
 */
export function decodeHeatmaps(maps: ModelTensor, card: Pick<DetectorCard, 'stride' | 'floor'>): readonly Peak[] {
  const [one, channels, h, w] = maps.dims as [number, number, number, number];
  if (one !== 1 || channels !== MAPS) {
    throw new RangeError(`the plant network must answer [1, ${MAPS}, h, w], got [${maps.dims.join(', ')}]`);
  }
  const { data } = maps;
  const plane = h * w;
  const found: Peak[] = [];
  for (let y = 0; y < h; y++) {
    for (let x = 0; x < w; x++) {
      const at = y * w + x;
      const score = data[at]!;
      if (score <= card.floor || !isTop(data, w, h, x, y)) continue;
      const cx = (x + data[2 * plane + at]!) * card.stride + (card.stride - 1) / 2;
      const cy = (y + data[3 * plane + at]!) * card.stride + (card.stride - 1) / 2;
      found.push({
        score,
        weedScore: data[plane + at]!,
        crownPx: [cx, cy],
        basePx: [cx + data[4 * plane + at]! * BASE_UNIT_PX, cy + data[5 * plane + at]! * BASE_UNIT_PX],
        double: data[6 * plane + at]!,
      });
    }
  }
  return found.sort((a, b) => b.score - a.score);
}

function isTop(data: Float32Array, w: number, h: number, x: number, y: number): boolean {
  const value = data[y * w + x]!;
  for (let j = Math.max(0, y - 1); j <= Math.min(h - 1, y + 1); j++) {
    for (let i = Math.max(0, x - 1); i <= Math.min(w - 1, x + 1); i++) {
      if (data[j * w + i]! > value) return false;
    }
  }
  return true;
}
