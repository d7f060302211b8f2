import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import { halve } from '../../raster/halve.ts';
import type { Raster } from '../../raster/raster.ts';
import { darkQuads, type Quad } from './darkQuads.ts';
import { readMarker } from './readMarker.ts';
import { withCorner } from './withCorner.ts';

export interface SeenMarker {
  readonly id: number;
  /** Photo pixels, clockwise from the marker's own top left. */
  readonly corners: readonly [Point, Point, Point, Point];
}

/** Pictures are halved to at most this width for the search; cards are read at full size. */
const SEARCH_WIDTH_PX = 2100;

/** Squares cut by a straw or a blade of grass are joined over gaps of up to twice so many pixels of the search picture. */
const BRIDGES_PX = [0, 3];

/**
 * Marker cards in a photo, corners to a pixel or two. The search is our own (dark patches with four corners, then their
 * code): the detector of js-aruco2 took 9 s on a photo of textured soil and lost a card with a straw across its
 * border; its code tables are used. Two markers of one number are both given.
 */
export function detectMarkers(photo: Raster): SeenMarker[] {
  let picture = photo;
  let scale = 1;
  while (picture.widthPx > SEARCH_WIDTH_PX && picture.heightPx > 1) {
    picture = halve(picture);
    scale *= 2;
  }
  const found: SeenMarker[] = [];
  for (const quad of darkQuads(picture, BRIDGES_PX)) {
    const full = quad.map(([x, y]): Point => [x * scale + (scale - 1) / 2, y * scale + (scale - 1) / 2]);
    const marker = readAny(photo, full as unknown as Quad);
    if (marker !== null && !found.some((known) => sameMarker(known, marker))) found.push(marker);
  }
  return found;
}

/** Reads a quad, or else one with a corner put where the three others have it: dirt over a corner displaces that one. */
function readAny(photo: Raster, quad: Quad): SeenMarker | null {
  const marker = readMarker(photo, quad);
  if (marker !== null) return marker;
  for (let k = 0; k < 4; k++) {
    const read = readMarker(photo, withCorner(quad, k));
    if (read !== null) return read;
  }
  return null;
}

function sameMarker(a: SeenMarker, b: SeenMarker): boolean {
  const size = norm(a.corners[2][0] - a.corners[0][0], a.corners[2][1] - a.corners[0][1]);
  return a.id === b.id && norm(a.corners[0][0] - b.corners[0][0], a.corners[0][1] - b.corners[0][1]) < size / 2;
}
