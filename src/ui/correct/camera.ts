import { applyHomography, type Homography } from '../../core/geometry/homography.ts';
import type { Point } from '../../core/geometry/point.ts';

/**
 * Where both views look: one photo pixel and how many screen pixels a metre of soil takes there. One state for the strip
 * and the photo, so that they show the same plant at the same size.
 */
export interface Look {
  readonly xPx: number;
  readonly yPx: number;
  readonly screenPxPerM: number;
}

/** How one view's picture lies on the photo and the soil. */
export interface PictureMap {
  /** Pixels of the view's picture from photo pixels, and back. */
  readonly fromPhoto: Homography;
  readonly toPhoto: Homography;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Picture pixels that a metre of soil takes at a pixel of the picture. */
  readonly pxPerM: (at: Point) => number;
}

/** Picture to screen: screen = (picture - middle) scale + size / 2. */
export interface ViewTransform {
  readonly scale: number;
  readonly middle: Point;
  readonly size: Point;
}

export const NEAREST_PX_PER_M = 4000;
export const FARTHEST_PX_PER_M = 40;

export function viewTransform(look: Look, map: PictureMap, size: Point): ViewTransform {
  const middle = applyHomography(map.fromPhoto, [look.xPx, look.yPx]);
  return { scale: look.screenPxPerM / map.pxPerM(middle), middle, size };
}

export function toScreen({ scale, middle, size }: ViewTransform, [x, y]: Point): Point {
  return [(x - middle[0]) * scale + size[0] / 2, (y - middle[1]) * scale + size[1] / 2];
}

export function toPicture({ scale, middle, size }: ViewTransform, [x, y]: Point): Point {
  return [(x - size[0] / 2) / scale + middle[0], (y - size[1] / 2) / scale + middle[1]];
}

/** Looks so many screen pixels farther to the right and down in one view. Stays on the photo. */
export function panned(look: Look, map: PictureMap, size: Point, by: Point, photo: Point): Look {
  const view = viewTransform(look, map, size);
  const [x, y] = applyHomography(map.toPhoto, toPicture(view, [size[0] / 2 + by[0], size[1] / 2 + by[1]]));
  return onPhoto({ ...look, xPx: x, yPx: y }, look, photo);
}

/** Comes nearer by a factor, with the place under a screen point of this view kept where it is. */
export function zoomed(look: Look, map: PictureMap, size: Point, at: Point, factor: number, photo: Point): Look {
  const screenPxPerM = Math.min(NEAREST_PX_PER_M, Math.max(FARTHEST_PX_PER_M, look.screenPxPerM * factor));
  const under = toPicture(viewTransform(look, map, size), at);
  const nearer = { ...look, screenPxPerM };
  const now = toScreen(viewTransform(nearer, map, size), under);
  return panned(nearer, map, size, [now[0] - at[0], now[1] - at[1]], photo);
}

function onPhoto(wanted: Look, before: Look, [widthPx, heightPx]: Point): Look {
  if (!Number.isFinite(wanted.xPx) || !Number.isFinite(wanted.yPx)) return before;
  return {
    ...wanted,
    xPx: Math.min(widthPx - 1, Math.max(0, wanted.xPx)),
    yPx: Math.min(heightPx - 1, Math.max(0, wanted.yPx)),
  };
}
