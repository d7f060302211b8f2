import { toFlat } from './metresPerDegree.ts';
import type { Position } from './randomPoints.ts';

const POINTS = ['N', 'NE', 'E', 'SE', 'S', 'SW', 'W', 'NW'] as const;

/** The way from one position to another over a field. */
export interface Way {
  readonly distanceM: number;
  /** Clockwise from true north, 0 to 360; 0 where there is no way to go. */
  readonly bearingDeg: number;
  /** The nearest of the eight points of the compass. */
  readonly point: (typeof POINTS)[number];
}

/** Distance and true bearing on a flat map around both; over 2 km wrong by less than 1 m and 0.1 degrees below 60 N. */
export function wayBetween(from: Position, to: Position): Way {
  const { x, y } = toFlat(to, from);
  const bearingDeg = ((Math.atan2(x, y) * 180) / Math.PI + 360) % 360;
  return { distanceM: Math.hypot(x, y), bearingDeg, point: POINTS[Math.round(bearingDeg / 45) % 8]! };
}
