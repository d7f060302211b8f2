import { type Camera, projectPoint } from '../../geometry/camera.ts';
import { norm } from '../../geometry/norm.ts';
import type { FoundLine } from '../reference.ts';
import { type Height, RESTING_HEIGHT } from './restingHeight.ts';

/** No rod is thicker, metres: a wider strip is something else. */
const THICKEST_ROD_M = 0.06;

/**
 * How high above the soil the readings of a line lie. Those of a tape lie on its face, and it is thin. Those of a
 * banded rod lie on the side turned to the camera: a radius towards it from the middle, r (1 + cosine of the view's angle
 * from straight down) above what the rod rests on. Of a plain rod its two ends show: a flat end is seen at its rim, turned to
 * the camera too, a rounded one at the middle of the rod; half way, with that doubt.
 *
 * @param camera over the readings, that is, they lie at height 0 under it
 */
export function heightOfLine(line: FoundLine, camera: Camera): Height {
  const resting = RESTING_HEIGHT[line.on === 'strip' ? 'rod' : (line.on ?? line.kind)];
  if (!isThick(line)) return resting;
  const radiusM = rodRadiusM(line, camera);
  // at the inside corners of a frame, half way up its bars
  if (line.on === 'frame') return { heightM: resting.heightM + radiusM, sdM: norm(resting.sdM, radiusM / 2) };
  const [, across, height] = camera.position;
  const turned = radiusM * (height / norm(across, height));
  if (line.on === 'strip') {
    // flat or round, nobody knows: half way, with that doubt
    const half = (radiusM + turned) / 2;
    return { heightM: (resting.heightM + RESTING_HEIGHT.tape.heightM) / 2 + half, sdM: norm(resting.sdM, half) };
  }
  return line.byEnds === true
    ? { heightM: resting.heightM + radiusM + turned / 2, sdM: norm(resting.sdM, turned / 2) }
    : { heightM: resting.heightM + radiusM + turned, sdM: resting.sdM };
}

/** Whether a line lies on something that its width says the height of. */
export function isThick({ kind, on }: Pick<FoundLine, 'kind' | 'on'>): boolean {
  return kind === 'rod' || on === 'rod' || on === 'strip' || on === 'frame';
}

/** Half the median thickness by the widths seen; 0 where they are none of a rod. */
function rodRadiusM(line: FoundLine, camera: Camera): number {
  if (line.widths.length === 0) return 0;
  const thickness = line.widths
    .map(({ readingM, widthPx }) => {
      const [cx, cy, cz] = camera.position;
      const away = norm(cx - readingM, cy, cz);
      const [x, y] = projectPoint(camera, [readingM, 0, 0]);
      const stretched = norm(x - camera.middlePx[0], y - camera.middlePx[1], camera.focalPx);
      return (widthPx * away) / stretched;
    })
    .sort((a, b) => a - b);
  const middle = thickness[thickness.length >> 1]!;
  return middle < THICKEST_ROD_M ? middle / 2 : 0;
}
