import { describe, expect, it } from 'vitest';
import type { Homography } from '../../../../src/core/geometry/homography.ts';
import { rowDirection } from '../../../../src/core/reference/rows/rowDirection.ts';
import { seeded } from '../../../support/drawLineScene.ts';

/** 2 mm a pixel, across upwards, the place asked about at pixel (600, 600). */
const map: Homography = [0.002, 0, -1.2, 0, -0.002, 1.2, 0, 0, 1];
const middle = [600, 600] as const;
const DEGREE = Math.PI / 180;

/** Leaves of rows 75 cm apart that run at `turn` to the axis, each plant a patch of 6 cm. */
function rows(turn: number) {
  const next = seeded(5);
  const x: number[] = [];
  const y: number[] = [];
  for (const across of [-0.55, 0.2, 0.95]) {
    for (let along = -1.1; along < 1.1; along += 0.09) {
      for (let k = 0; k < 6; k++) {
        const [u, v] = [along + 0.06 * (next() - 0.5), across + 0.06 * (next() - 0.5)];
        x.push(600 + (u * Math.cos(turn) - v * Math.sin(turn)) / 0.002);
        y.push(600 - (u * Math.sin(turn) + v * Math.cos(turn)) / 0.002);
      }
    }
  }
  return { x: Float32Array.from(x), y: Float32Array.from(y) };
}

describe('the direction of the rows', () => {
  it.each([-80, -45, -7, 0, 12, 60, 88])('is told to half a degree where they run at %i degrees', (degrees) => {
    // two of the finest steps
    expect(Math.abs(rowDirection(map, middle, rows(degrees * DEGREE))! / DEGREE - degrees)).toBeLessThan(0.5);
  });

  it('is the same seen at half the size', () => {
    const { x, y } = rows(30 * DEGREE);
    const half: Homography = [0.004, 0, -1.2, 0, -0.004, 1.2, 0, 0, 1];
    const smaller = { x: x.map((v) => v / 2), y: y.map((v) => v / 2) };
    expect(rowDirection(half, [300, 300], smaller)).toBeCloseTo(rowDirection(map, middle, { x, y })!, 2);
  });

  it('cannot be told of weeds strewn evenly, of a handful of leaves, and of nothing', () => {
    const next = seeded(8);
    const strewn = Float32Array.from({ length: 900 }, () => 1200 * next());
    expect(rowDirection(map, middle, { x: strewn, y: Float32Array.from(strewn, () => 1200 * next()) })).toBeNull();
    const few = rows(0);
    expect(rowDirection(map, middle, { x: few.x.slice(0, 40), y: few.y.slice(0, 40) })).toBeNull();
    expect(rowDirection(map, middle, { x: new Float32Array(), y: new Float32Array() })).toBeNull();
  });
});
