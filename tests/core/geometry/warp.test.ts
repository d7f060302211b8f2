import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import type { Homography } from '../../../src/core/geometry/homography.ts';
import { makeRaster } from '../../../src/core/raster/raster.ts';
import { warp } from '../../../src/core/raster/warp.ts';

// Values by OpenCV's warpPerspective, made by tests/reference/opencv_geometry.py.
const stored = JSON.parse(readFileSync(new URL('../../reference/opencv_geometry.json', import.meta.url), 'utf8')).warp;

it('resamples like OpenCV inside the picture', () => {
  const picture = makeRaster(stored.picture.widthPx, stored.picture.heightPx);
  (stored.picture.grey as number[]).forEach((v, i) => {
    picture.data.set([v, v, v, 255], 4 * i);
  });
  const { widthPx, heightPx, grey } = stored.result as { widthPx: number; heightPx: number; grey: number[] };
  const h = stored.outToIn as Homography;
  const out = warp(picture, h, widthPx, heightPx, 1);
  let compared = 0;
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const w = h[6] * x + h[7] * y + h[8];
      const [u, v] = [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w];
      // OpenCV fades to black across the border; inside, it rounds places to 1/32 pixel: under 1 grey level here.
      if (u < 1 || v < 1 || u > picture.widthPx - 2 || v > picture.heightPx - 2) continue;
      expect(Math.abs(out.data[4 * (y * widthPx + x)]! - grey[y * widthPx + x]!)).toBeLessThanOrEqual(1);
      compared++;
    }
  }
  expect(compared).toBeGreaterThan(1500);
});
