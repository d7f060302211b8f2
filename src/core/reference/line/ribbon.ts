import type { Point } from '../../geometry/point.ts';

/**
 * A long thin strip in a picture: a straight axis with a low-order bow, and a width that changes linearly along it
 * (as the image of two parallel lines does). `s` is pixels along the axis from `origin`, `v` pixels to the side of
 * the centre line, in the direction of the normal (-dir y, dir x).
 */
export interface Ribbon {
  readonly origin: Point;
  /** Unit vector of the axis. */
  readonly dir: Point;
  /** Offset of the centre line from the axis, px: a polynomial in s / `scaleS`, lowest power first. */
  readonly bow: readonly number[];
  /** Width in px: w0 + w1 (s / scaleS). */
  readonly width: readonly [number, number];
  readonly scaleS: number;
  readonly fromS: number;
  readonly toS: number;
}

export function ribbonOffset(ribbon: Ribbon, s: number): number {
  const t = s / ribbon.scaleS;
  let sum = 0;
  for (let i = ribbon.bow.length - 1; i >= 0; i--) sum = sum * t + ribbon.bow[i]!;
  return sum;
}

export function ribbonWidth(ribbon: Ribbon, s: number): number {
  return ribbon.width[0] + (ribbon.width[1] * s) / ribbon.scaleS;
}

/** The picture point at `s` along the ribbon and `v` pixels beside its centre line. */
export function ribbonPoint(ribbon: Ribbon, s: number, v: number): Point {
  const o = ribbonOffset(ribbon, s) + v;
  const [dx, dy] = ribbon.dir;
  return [ribbon.origin[0] + s * dx - o * dy, ribbon.origin[1] + s * dy + o * dx];
}

/** The same ribbon in a picture `factor` times as large (pixel centres at integers in both). */
export function scaleRibbon(ribbon: Ribbon, factor: number): Ribbon {
  const shift = (factor - 1) / 2;
  return {
    origin: [ribbon.origin[0] * factor + shift, ribbon.origin[1] * factor + shift],
    dir: ribbon.dir,
    bow: ribbon.bow.map((q) => q * factor),
    width: [ribbon.width[0] * factor, ribbon.width[1] * factor],
    scaleS: ribbon.scaleS * factor,
    fromS: ribbon.fromS * factor,
    toS: ribbon.toS * factor,
  };
}

/** The same ribbon walked the other way. */
export function reverseRibbon(ribbon: Ribbon): Ribbon {
  return {
    ...ribbon,
    dir: [-ribbon.dir[0], -ribbon.dir[1]],
    bow: ribbon.bow.map((q, i) => (i % 2 === 0 ? -q : q)),
    width: [ribbon.width[0], -ribbon.width[1]],
    fromS: -ribbon.toS,
    toS: -ribbon.fromS,
  };
}

/** Outline of the ribbon, widened by `marginPx` on each side. */
export function ribbonOutline(ribbon: Ribbon, marginPx: number): Point[] {
  const steps = 24;
  const one: Point[] = [];
  const other: Point[] = [];
  for (let i = 0; i <= steps; i++) {
    const s = ribbon.fromS + ((ribbon.toS - ribbon.fromS) * i) / steps;
    const half = Math.max(0.5, ribbonWidth(ribbon, s) / 2) + marginPx;
    one.push(ribbonPoint(ribbon, s, -half));
    other.push(ribbonPoint(ribbon, s, half));
  }
  return [...one, ...other.reverse()];
}
