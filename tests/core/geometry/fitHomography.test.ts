import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitHomography } from '../../../src/core/geometry/fitHomography.ts';
import {
  applyHomography,
  composeHomographies,
  type Homography,
  invertHomography,
} from '../../../src/core/geometry/homography.ts';
import type { Point } from '../../../src/core/geometry/point.ts';

interface Stored {
  readonly fits: readonly { noise: number; from: Point[]; to: Point[]; homography: number[] }[];
}
// Values by OpenCV's findHomography, made by tests/reference/opencv_geometry.py.
const stored: Stored = JSON.parse(
  readFileSync(new URL('../../reference/opencv_geometry.json', import.meta.url), 'utf8'),
);

const corners: readonly Point[] = [
  [0, 0],
  [4000, 0],
  [4000, 3000],
  [0, 3000],
  [1800, 1400],
];
const distance = (a: Point, b: Point) => Math.hypot(a[0] - b[0], a[1] - b[1]);
const pairsOf = (h: Homography, from: readonly Point[]) => from.map((p) => ({ from: p, to: applyHomography(h, p) }));

/** Photo-like maps: the horizon stays outside the picture of 4000 x 3000. */
const maps = fc
  .record({
    turn: fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }),
    scale: fc.double({ min: 2e-4, max: 5, noNaN: true }),
    shear: fc.double({ min: -0.4, max: 0.4, noNaN: true }),
    px: fc.double({ min: -1e-4, max: 1e-4, noNaN: true }),
    py: fc.double({ min: -1e-4, max: 1e-4, noNaN: true }),
    mirror: fc.boolean(),
  })
  .map(({ turn, scale, shear, px, py, mirror }): Homography => {
    const [c, s] = [Math.cos(turn) * scale, Math.sin(turn) * scale];
    const m = mirror ? -1 : 1;
    return [c, -s * m + shear * c, 10 * scale, s, c * m + shear * s, -20 * scale, px, py, 1];
  });

describe('fitHomography', () => {
  it('agrees with OpenCV, exact and noisy', () => {
    for (const { from, to, homography, noise } of stored.fits) {
      const reference = homography as unknown as Homography;
      const fit = fitHomography(from.map((p, i) => ({ from: p, to: to[i]! })))!;
      // OpenCV takes single-precision points (0.0002 px at 4000) and stops after 10 steps of refinement: exact points
      // agree to 0.005 px; with noise ours must fit at least as well, and differ by less than half the noise.
      for (const p of corners) {
        const gap = distance(applyHomography(fit.homography, p), applyHomography(reference, p));
        expect(gap).toBeLessThan(0.005 + noise / 2);
      }
      const squares = from.reduce((sum, p, i) => sum + distance(applyHomography(reference, p), to[i]!) ** 2, 0);
      expect(fit.rms).toBeLessThanOrEqual(Math.sqrt(squares / from.length));
    }
  });

  it('finds any photo-like map again from exact points', () => {
    fc.assert(
      fc.property(maps, (h) => {
        const fit = fitHomography(pairsOf(h, corners))!;
        const size = distance(applyHomography(h, corners[0]!), applyHomography(h, corners[2]!));
        for (const p of [
          [100, 2000],
          [3900, 100],
          [2000, 1500],
        ] as const) {
          expect(distance(applyHomography(fit.homography, p), applyHomography(h, p))).toBeLessThan(1e-7 * size);
        }
      }),
    );
  });

  it('gives the same ground for a turned or mirrored picture', () => {
    const turned: Homography = [0, -1, 3000, 1, 0, 0, 0, 0, 1];
    const mirrored: Homography = [-1, 0, 4000, 0, 1, 0, 0, 0, 1];
    const noisy = corners.map((p, i) => ({
      from: p,
      to: [p[0] * 1e-3 + 1e-3 * (i % 3), p[1] * 1e-3 - 1e-3 * (i % 2)] as const,
      sd: 1e-3,
    }));
    const plain = fitHomography(noisy)!;
    for (const move of [turned, mirrored]) {
      const moved = fitHomography(noisy.map((p) => ({ ...p, from: applyHomography(move, p.from) })))!;
      const p: Point = [1234, 987];
      const q = applyHomography(moved.homography, applyHomography(move, p));
      expect(distance(q, applyHomography(plain.homography, p))).toBeLessThan(1e-8);
    }
  });

  it('tells its doubt: the other maps spread as repeated noisy fits do', () => {
    const truth: Homography = [1e-3, 1e-4, -2, -1e-4, 1.1e-3, -1.5, 1e-5, -3e-5, 1];
    const grid = Array.from({ length: 12 }, (_, i): Point => [(i % 4) * 1200 + 200, Math.floor(i / 4) * 1200 + 300]);
    const at: Point = [2500, 2800];
    let seed = 7;
    const normal = () => {
      let sum = -6;
      for (let i = 0; i < 12; i++) {
        seed = (seed * 1103515245 + 12345) % 2147483648;
        sum += seed / 2147483648;
      }
      return sum;
    };
    const trials = Array.from({ length: 300 }, () => {
      const pairs = pairsOf(truth, grid).map((p) => ({
        ...p,
        to: [p.to[0] + 0.002 * normal(), p.to[1] + 0.002 * normal()] as const,
        sd: 0.002,
      }));
      const fit = fitHomography(pairs)!;
      const mine = applyHomography(fit.homography, at);
      const said = Math.sqrt(
        fit.others.reduce((sum, h) => sum + (applyHomography(h, at)[0] - mine[0]) ** 2, 0) / fit.others.length,
      );
      return { error: mine[0] - applyHomography(truth, at)[0], said };
    });
    const seen = Math.sqrt(trials.reduce((sum, t) => sum + t.error ** 2, 0) / trials.length);
    const said = trials.reduce((sum, t) => sum + t.said, 0) / trials.length;
    // 300 draws know a standard deviation to 4 %; 15 % is over three times that.
    expect(Math.abs(seen / said - 1)).toBeLessThan(0.15);
  });

  it('refuses points that fix no map', () => {
    const line = [0, 1, 2, 3, 4].map((t) => ({ from: [t, 2 * t] as const, to: [t, 0] as const }));
    const same = [0, 0, 0, 0].map(() => ({ from: [5, 5] as const, to: [1, 1] as const }));
    const three = pairsOf([1, 0, 0, 0, 1, 0, 0, 0, 1], corners.slice(0, 3));
    const bad = [...three, { from: [Number.NaN, 0] as const, to: [0, 0] as const }];
    for (const pairs of [line, same, three, bad, []]) expect(fitHomography(pairs)).toBeNull();
  });
});

describe('homography algebra', () => {
  it('goes there and back', () => {
    fc.assert(
      fc.property(maps, maps, (g, h) => {
        const there = composeHomographies(g, h);
        const p: Point = [700, 1900];
        const direct = applyHomography(g, applyHomography(h, p));
        const composed = applyHomography(there, p);
        fc.pre(Math.hypot(...direct) < 1e6);
        expect(distance(direct, composed)).toBeLessThan(1e-6 * Math.max(1, Math.hypot(...direct)));
        expect(distance(applyHomography(invertHomography(h), applyHomography(h, p)), p)).toBeLessThan(1e-5);
      }),
    );
  });
});
