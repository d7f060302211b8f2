import { norm } from '../../geometry/norm.ts';
import type { Raster } from '../../raster/raster.ts';
import { type Ribbon, ribbonOffset } from './ribbon.ts';

/** Range of s for which the centre line lies in the picture. */
export function ribbonInPicture(photo: Raster, ribbon: Ribbon): [number, number] {
  const reach = 2 * norm(photo.widthPx, photo.heightPx);
  const { origin, dir } = ribbon;
  let low = Number.NaN;
  let high = Number.NaN;
  for (let s = -reach; s <= reach; s += 1) {
    const o = ribbonOffset(ribbon, s);
    const x = origin[0] + s * dir[0] - o * dir[1];
    const y = origin[1] + s * dir[1] + o * dir[0];
    if (x < 0 || y < 0 || x > photo.widthPx - 1 || y > photo.heightPx - 1) continue;
    if (Number.isNaN(low)) low = s;
    high = s;
  }
  return Number.isNaN(low) ? [0, 0] : [low, high];
}
