import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { applyHomography, type Homography, invertHomography } from '../../../src/core/geometry/homography.ts';
import type { Point } from '../../../src/core/geometry/point.ts';
import {
  type Look,
  type PictureMap,
  panned,
  toPicture,
  toScreen,
  viewTransform,
  zoomed,
} from '../../../src/ui/correct/camera.ts';

const PHOTO: Point = [3264, 2448];
const SAME: Homography = [1, 0, 0, 0, 1, 0, 0, 0, 1];
/** A photo seen from the side, made straight: 1 mm a pixel. */
const OBLIQUE: Homography = [1.1, 0.9, -900, 0.02, 2.2, -1900, 0, 0.0006, 1];
const photo: PictureMap = { fromPhoto: SAME, toPhoto: SAME, widthPx: 3264, heightPx: 2448, pxPerM: () => 900 };
const strip: PictureMap = {
  fromPhoto: OBLIQUE,
  toPhoto: invertHomography(OBLIQUE),
  widthPx: 3300,
  heightPx: 840,
  pxPerM: () => 1000,
};

const look: fc.Arbitrary<Look> = fc.record({
  xPx: fc.double({ min: 600, max: 2600, noNaN: true }),
  yPx: fc.double({ min: 900, max: 1500, noNaN: true }),
  screenPxPerM: fc.double({ min: 100, max: 2000, noNaN: true }),
});
const map = fc.constantFrom(photo, strip);
const size: Point = [360, 240];
const at = fc.tuple(fc.double({ min: 0, max: 360, noNaN: true }), fc.double({ min: 0, max: 240, noNaN: true }));
/** A thousandth of a screen pixel: rounding of a few maps in a row. */
const NOTHING_PX = 1e-3;

const near = (a: Point, b: Point) => expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeLessThan(NOTHING_PX);
const inside = ({ xPx, yPx }: Look) => xPx > 0 && yPx > 0 && xPx < PHOTO[0] - 1 && yPx < PHOTO[1] - 1;

describe('where the views look', () => {
  it('both views show the looked-at place in their middle, at one scale of soil', () => {
    fc.assert(
      fc.property(look, map, (l, m) => {
        const view = viewTransform(l, m, size);
        near(toScreen(view, applyHomography(m.fromPhoto, [l.xPx, l.yPx])), [180, 120]);
        expect(view.scale * m.pxPerM(view.middle)).toBeCloseTo(l.screenPxPerM, 9);
      }),
    );
  });

  it('screen to picture and back is the same place', () => {
    fc.assert(
      fc.property(look, map, at, (l, m, p) => {
        const view = viewTransform(l, m, size);
        near(toScreen(view, toPicture(view, p)), p);
      }),
    );
  });

  it('coming nearer keeps the place under the finger', () => {
    fc.assert(
      fc.property(look, map, at, fc.double({ min: 0.5, max: 2, noNaN: true }), (l, m, p, factor) => {
        const under = toPicture(viewTransform(l, m, size), p);
        const nearer = zoomed(l, m, size, p, factor, PHOTO);
        // At an edge of the photo the view stops, and the place moves.
        fc.pre(inside(nearer));
        near(toScreen(viewTransform(nearer, m, size), under), p);
      }),
    );
  });

  it('panning there and back comes back, and never leaves the photo', () => {
    fc.assert(
      fc.property(look, map, at, (l, m, [dx, dy]) => {
        const there = panned(l, m, size, [dx / 4, dy / 4], PHOTO);
        fc.pre(inside(there));
        const back = panned(there, m, size, [-dx / 4, -dy / 4], PHOTO);
        near([back.xPx, back.yPx], [l.xPx, l.yPx]);
        const far = panned(l, m, size, [dx * 1e4, dy * 1e4], PHOTO);
        expect(far.xPx).toBeGreaterThanOrEqual(0);
        expect(far.xPx).toBeLessThanOrEqual(PHOTO[0] - 1);
        expect(far.yPx).toBeLessThanOrEqual(PHOTO[1] - 1);
      }),
    );
  });

  it('there is a nearest and a farthest', () => {
    const l: Look = { xPx: 1600, yPx: 1200, screenPxPerM: 500 };
    expect(zoomed(l, photo, size, [180, 120], 1e6, PHOTO).screenPxPerM).toBe(4000);
    expect(zoomed(l, photo, size, [180, 120], 1e-6, PHOTO).screenPxPerM).toBe(40);
  });
});
