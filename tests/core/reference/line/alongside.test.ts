import { describe, expect, it } from 'vitest';
import { alongside } from '../../../../src/core/reference/line/alongside.ts';
import type { Ribbon } from '../../../../src/core/reference/line/ribbon.ts';

type Point = readonly [number, number];

function strip(a: Point, b: Point, fromWidth: number, toWidth: number): Ribbon {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const dir = [(b[0] - a[0]) / length, (b[1] - a[1]) / length] as const;
  return { origin: a, dir, bow: [0], width: [fromWidth, toWidth - fromWidth], scaleS: length, fromS: 0, toS: length };
}

// a rod in the sun with its shadow, as seen in a rendered picture of one rod
const rod = strip([607, 1320], [2626, 1234], 12.8, 12.5);
const shadow = strip([622, 1329], [2519, 1263], 6.5, 34.3);

describe('alongside', () => {
  it('joins a rod and its shadow, in either order', () => {
    expect(alongside(rod, shadow)).toBe(true);
    expect(alongside(shadow, rod)).toBe(true);
  });

  it('keeps two rods a hand apart, and two that cross, asunder', () => {
    expect(alongside(rod, strip([607, 1420], [2626, 1334], 12.8, 12.5))).toBe(false);
    expect(alongside(rod, strip([1500, 800], [1700, 1700], 12.8, 12.5))).toBe(false);
    expect(alongside(rod, strip([607, 1320], [2626, 1000], 12.8, 12.5))).toBe(false);
  });
});
