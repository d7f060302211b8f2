import { norm } from '../../geometry/norm.ts';
import type { Raster } from '../../raster/raster.ts';
import { type Ribbon, ribbonPoint } from './ribbon.ts';

/** Range of s for which the centre line lies in the picture. */
export function ribbonInPicture(photo: Raster, ribbon: Ribbon): [number, number] {
  const reach = 2 * norm(photo.widthPx, photo.heightPx);
  let low = Number.NaN;
  let high = Number.NaN;
  for (let s = -reach; s <= reach; s += 1) {
    const [x, y] = ribbonPoint(ribbon, s, 0);
    if (x < 0 || y < 0 || x > photo.widthPx - 1 || y > photo.heightPx - 1) continue;
    if (Number.isNaN(low)) low = s;
    high = s;
  }
  return Number.isNaN(low) ? [0, 0] : [low, high];
}
