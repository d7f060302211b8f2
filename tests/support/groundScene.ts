import { type Camera, groundToPhoto, middleOf } from '../../src/core/geometry/camera.ts';
import { invertHomography } from '../../src/core/geometry/homography.ts';
import type { Vector3 } from '../../src/core/geometry/point.ts';
import { add, cross, times, turned, unit } from '../../src/core/geometry/vector.ts';
import { makeRaster, type Raster } from '../../src/core/raster/raster.ts';

/** A pinhole camera at a place over the ground, looking at another, its sides level but for `rollRad`. */
export function lookingAt(
  position: Vector3,
  aim: Vector3,
  size: { widthPx: number; heightPx: number; focalPx: number },
  rollRad = 0,
  upHint: Vector3 = [0, 0, 1],
): Camera {
  const ahead = unit(add(aim, times(position, -1)));
  const level = unit(cross(ahead, upHint));
  const right = turned(level, times(ahead, rollRad));
  return {
    focalPx: size.focalPx,
    middlePx: middleOf(size.widthPx, size.heightPx),
    position,
    axes: [right, cross(ahead, right), ahead],
  };
}

/**
 * What a camera sees of bare soil with things painted on it: `paint(along, across)` is light from 0 to 1, or null where
 * there is soil; averaged over each pixel in light, then stored as sRGB.
 */
export function groundPicture(
  camera: Camera,
  widthPx: number,
  heightPx: number,
  paint: (alongM: number, acrossM: number) => number | null,
): Raster {
  const picture = makeRaster(widthPx, heightPx);
  const [a, b, c, d, e, f, g, h, j] = invertHomography(groundToPhoto(camera));
  const n = 3;
  for (let y = 0, i = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++, i += 4) {
      const w0 = g * x + h * y + j;
      const soil = soilLight((a * x + b * y + c) / w0, (d * x + e * y + f) / w0);
      let light = 0;
      for (let k = 0; k < n * n; k++) {
        const u = x + ((k % n) + 0.5) / n - 0.5;
        const v = y + (Math.floor(k / n) + 0.5) / n - 0.5;
        const w = g * u + h * v + j;
        light += paint((a * u + b * v + c) / w, (d * u + e * v + f) / w) ?? soil;
      }
      light /= n * n;
      const value = Math.round(255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055));
      picture.data.fill(value, i, i + 3);
      picture.data[i + 3] = 255;
    }
  }
  return picture;
}

/** Light of bare soil with clods of 1 and 4 cm: smoothed noise on two lattices, repeatable, no lines and no period. */
function soilLight(alongM: number, acrossM: number): number {
  return 0.06 + 0.06 * lattice(alongM / 0.01, acrossM / 0.01) + 0.06 * lattice(alongM / 0.04, acrossM / 0.04);
}

function lattice(x: number, y: number): number {
  const [x0, y0] = [Math.floor(x), Math.floor(y)];
  const [u, v] = [x - x0, y - y0];
  const at = (i: number, j: number): number => {
    const mixed = Math.imul(Math.imul(x0 + i, 0x9e3779b1) ^ Math.imul(y0 + j, 0x85ebca6b), 0xc2b2ae35);
    return ((mixed ^ (mixed >>> 15)) >>> 0) / 4294967296;
  };
  return (at(0, 0) * (1 - u) + at(1, 0) * u) * (1 - v) + (at(0, 1) * (1 - u) + at(1, 1) * u) * v;
}
