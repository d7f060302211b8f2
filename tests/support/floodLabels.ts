import type { Mask } from '../../src/core/raster/raster.ts';

/** Eight-connected components by plain flood fill, numbered in the order of their first pixel: the slow way, to check the fast one. */
export function floodLabels({ widthPx: w, heightPx: h, data }: Mask): Int32Array {
  const labels = new Int32Array(w * h);
  let count = 0;
  for (let start = 0; start < data.length; start++) {
    if (data[start] === 0 || labels[start] !== 0) continue;
    labels[start] = ++count;
    const queue = [start];
    for (const i of queue) {
      for (let v = -1; v <= 1; v++) {
        for (let u = -1; u <= 1; u++) {
          const x = (i % w) + u;
          const y = Math.floor(i / w) + v;
          if (x < 0 || y < 0 || x >= w || y >= h) continue;
          const j = y * w + x;
          if (data[j] === 0 || labels[j] !== 0) continue;
          labels[j] = count;
          queue.push(j);
        }
      }
    }
  }
  return labels;
}
