import { norm } from '../geometry/norm.ts';
import type { Peak } from './decodeHeatmaps.ts';
import type { DetectorCard } from './detectorCard.ts';
import type { ModelTensor } from './modelRunner.ts';

/** Leaf cells that belong to one peak: their number and bounding box in pixels of the network's input. */
export interface LeafRegion {
  readonly cells: number;
  readonly boxPx: readonly [number, number, number, number] | null;
}

const LEAF_UNIT_PX = 32;
const FAR_PX = 22;

/**
 * Gives every vegetation cell to the peak nearest to where its regressed vector points (its plant's crown); cells that
 * point to no peak within 44 mm belong to none.
 */
export function leafRegions(
  maps: ModelTensor,
  peaks: readonly Peak[],
  card: Pick<DetectorCard, 'stride'>,
): readonly LeafRegion[] {
  const [, , h, w] = maps.dims as [number, number, number, number];
  const plane = h * w;
  const { data } = maps;
  const cells = new Int32Array(peaks.length);
  const boxes = peaks.map((): [number, number, number, number] => [Infinity, Infinity, -Infinity, -Infinity]);
  for (let y = 0; y < h; y++) {
    for (let x = 0; x < w; x++) {
      const at = y * w + x;
      if (data[7 * plane + at]! < 0.5) continue;
      const px = x * card.stride + (card.stride - 1) / 2;
      const py = y * card.stride + (card.stride - 1) / 2;
      const tx = px + data[9 * plane + at]! * LEAF_UNIT_PX;
      const ty = py + data[10 * plane + at]! * LEAF_UNIT_PX;
      let best = -1;
      let least = FAR_PX;
      for (let k = 0; k < peaks.length; k++) {
        const [cx, cy] = peaks[k]!.crownPx;
        const d = norm(cx - tx, cy - ty);
        if (d < least) [best, least] = [k, d];
      }
      if (best < 0) continue;
      cells[best]!++;
      const box = boxes[best]!;
      box[0] = Math.min(box[0], px);
      box[1] = Math.min(box[1], py);
      box[2] = Math.max(box[2], px);
      box[3] = Math.max(box[3], py);
    }
  }
  return peaks.map((_, k) => ({ cells: cells[k]!, boxPx: cells[k]! > 0 ? boxes[k]! : null }));
}
