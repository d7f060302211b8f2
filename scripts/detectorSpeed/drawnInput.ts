import type { ModelTensor } from '../../src/core/detector/modelRunner.ts';
import { drawNormal } from '../../src/core/statistics/draw.ts';
import { seededRandom } from '../../src/core/statistics/seededRandom.ts';

/** A strip's worth of input: brown soil with noise and a row of green discs; the same at every call. */
export function drawnInput(widthPx: number, heightPx: number): ModelTensor {
  const random = seededRandom(1);
  const plane = widthPx * heightPx;
  const data = new Float32Array(6 * plane);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const leaf = Math.hypot((x % 50) - 25, y - heightPx / 2) < 14;
      const [r, g, b] = leaf ? [0.25, 0.45, 0.15] : [0.45, 0.36, 0.28];
      const at = y * widthPx + x;
      const noise = 0.03 * drawNormal(random);
      data[at] = (r + noise - 0.45) * 4;
      data[plane + at] = (g + noise - 0.45) * 4;
      data[2 * plane + at] = (b + noise - 0.45) * 4;
      data[5 * plane + at] = 1;
    }
  }
  return { data, dims: [1, 6, heightPx, widthPx] };
}
