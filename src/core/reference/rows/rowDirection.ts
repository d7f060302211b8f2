import { applyHomography, type Homography } from '../../geometry/homography.ts';
import type { Point } from '../../geometry/point.ts';
import type { GreenPoints } from './greenPoints.ts';

/** Leaves within this of the place asked about, metres. */
const REACH_M = 1.2;
const LEAST_POINTS = 60;
/** Leaves are summed across in bands so wide, metres: a seedling row is 5 to 15 cm wide. */
const BAND_M = 0.05;
const STEP_RAD = Math.PI / 90;
const FINE_RAD = Math.PI / 720;
/** How much more the leaves must gather in bands at the best turn than at the median one. */
const CLEARLY = 1.4;

/**
 * The direction of the plant rows around a place on the ground: the turn of the axis, radians counter-clockwise from
 * +x, -pi/2 to pi/2, at which the leaves in the photo gather most in narrow bands; null when no turn stands out.
 *
 * @param map photo pixels to ground metres.
 * @param placePx a photo pixel near the rows asked about, this side of the horizon.
 */
export function rowDirection(map: Homography, placePx: Point, { x, y }: GreenPoints): number | null {
  const depthOf = (px: number, py: number): number => map[6] * px + map[7] * py + map[8];
  const nearSign = Math.sign(depthOf(...placePx));
  const [cx, cy] = applyHomography(map, placePx);
  const leaves: { u: number; v: number; weight: number }[] = [];
  for (let i = 0; i < x.length; i++) {
    const depth = depthOf(x[i]!, y[i]!);
    if (!(depth * nearSign > 0)) continue;
    const [gx, gy] = applyHomography(map, [x[i]!, y[i]!]);
    const [u, v] = [gx - cx, gy - cy];
    // a pixel weighs as much ground as it shows: near and far leaves count alike
    if (u * u + v * v < REACH_M * REACH_M) leaves.push({ u, v, weight: 1 / Math.abs(depth * depth * depth) });
  }
  if (leaves.length < LEAST_POINTS) return null;
  const gathered = (turn: number): number => {
    // engines round cosines differently in the last place
    const [c, s] = [Math.fround(Math.cos(turn)), Math.fround(Math.sin(turn))];
    const bands = new Float64Array(Math.ceil((2 * REACH_M) / BAND_M) + 1);
    for (const { u, v, weight } of leaves) {
      // shared between the two nearest bands: no jumps from turn to turn
      const at = (c * v - s * u + REACH_M) / BAND_M;
      const band = Math.min(bands.length - 2, Math.max(0, Math.floor(at)));
      bands[band]! += weight * (band + 1 - at);
      bands[band + 1]! += weight * (at - band);
    }
    return bands.reduce((sum, w) => sum + w * w, 0);
  };
  const turns = Array.from({ length: 90 }, (_, k) => -Math.PI / 2 + k * STEP_RAD);
  const scores = turns.map(gathered);
  const best = scores.indexOf(Math.max(...scores));
  const median = [...scores].sort((a, b) => a - b)[45]!;
  if (!(scores[best]! > CLEARLY * median)) return null;
  const fine = [-3, -2, -1, 0, 1, 2, 3].map((k) => turns[best]! + k * FINE_RAD);
  return fine.reduce((a, b) => (gathered(b) > gathered(a) ? b : a));
}
