import type { Point } from '../../geometry/point.ts';
import type { VotedLine } from './lineVotes.ts';

/** The line through two photo points, in a picture shrunken `factor` times (pixel centres at integers in both). */
export function lineThrough(
  [from, to]: readonly [Point, Point],
  factor: number,
  widthPx: number,
  heightPx: number,
): Pick<VotedLine, 'angle' | 'rho'> {
  const small = (v: number): number => (v - (factor - 1) / 2) / factor;
  const [nx, ny] = [from[1] - to[1], to[0] - from[0]];
  const sign = ny < 0 || (ny === 0 && nx < 0) ? -1 : 1;
  // single precision: there every engine's functions round alike
  const angle = Math.fround(Math.atan2(sign * ny, sign * nx));
  const [x, y] = [small(from[0]) - (widthPx - 1) / 2, small(from[1]) - (heightPx - 1) / 2];
  return { angle, rho: x * Math.fround(Math.cos(angle)) + y * Math.fround(Math.sin(angle)) };
}
