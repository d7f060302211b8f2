import { expect, it, describe as suite } from 'vitest';
import { describe } from '../../../src/core/statistics/describe.ts';
import {
  drawBinomial,
  drawGamma,
  drawNegativeBinomial,
  drawNormal,
  drawPoisson,
} from '../../../src/core/statistics/draw.ts';
import { normalQuantile } from '../../../src/core/statistics/normal.ts';
import { seededRandom, xoshiro128 } from '../../../src/core/statistics/seededRandom.ts';

/** Drawn means and variances lie within this many standard errors: 1 in 15,000 by chance, and the seed is fixed. */
const ERRORS = 4;
const DRAWS = 20_000;

suite('seededRandom', () => {
  it('xoshiro128** 1.1 from state 1, 2, 3, 4 (reference implementation of Blackman & Vigna, prng.di.unimi.it)', () => {
    const next = xoshiro128([1, 2, 3, 4]);
    expect(Array.from({ length: 10 }, next)).toEqual([
      11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804,
    ]);
  });

  it('same seed, same numbers; other seed, others; from 0 up to 1', () => {
    const [a, b, c] = [seededRandom(7), seededRandom(7), seededRandom(8)];
    const first = Array.from({ length: 1000 }, a);
    expect(Array.from({ length: 1000 }, b)).toEqual(first);
    expect(Array.from({ length: 1000 }, c)).not.toEqual(first);
    expect(Math.min(...first)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...first)).toBeLessThan(1);
    expect(() => seededRandom(0.5)).toThrow(RangeError);
  });

  it('is flat: 20,000 numbers in 20 bins stay within the chi-square bound', () => {
    const random = seededRandom(1);
    const bins = new Array<number>(20).fill(0);
    for (let i = 0; i < DRAWS; i++) bins[Math.floor(random() * 20)]!++;
    const chi = bins.reduce((sum, n) => sum + (n - DRAWS / 20) ** 2 / (DRAWS / 20), 0);
    // 99.99 % of chi-square with 19 degrees of freedom, Wilson & Hilferty
    expect(chi).toBeLessThan(19 * (1 - 2 / 171 + normalQuantile(0.9999) * Math.sqrt(2 / 171)) ** 3);
  });
});

suite('draws have the mean and variance of their law', () => {
  it.each([
    ['normal', drawNormal, 0, 1],
    ['gamma 0.4', (r: () => number) => drawGamma(0.4, r), 0.4, 0.4],
    ['gamma 7', (r: () => number) => drawGamma(7, r), 7, 7],
    ['Poisson 3', (r: () => number) => drawPoisson(3, r), 3, 3],
    ['Poisson 250', (r: () => number) => drawPoisson(250, r), 250, 250],
    ['binomial 40, 0.3', (r: () => number) => drawBinomial(40, 0.3, r), 12, 8.4],
    ['negative binomial 20, k 4', (r: () => number) => drawNegativeBinomial(20, 4, r), 20, 120],
  ] as const)('%s', (_, draw, mean, variance) => {
    const random = seededRandom(20);
    const found = describe(Array.from({ length: DRAWS }, () => draw(random)));
    expect(Math.abs(found.mean! - mean)).toBeLessThan(ERRORS * Math.sqrt(variance / DRAWS));
    // the kurtosis of these laws is at most 18 (gamma 0.4), so the variance's own error is at most this
    expect(Math.abs(found.variance! / variance - 1)).toBeLessThan(ERRORS * Math.sqrt(17 / DRAWS));
  });

  it('refuses what no law allows', () => {
    expect(() => drawGamma(0, seededRandom(1))).toThrow(RangeError);
    expect(() => drawPoisson(-1, seededRandom(1))).toThrow(RangeError);
    expect(drawPoisson(0, seededRandom(1))).toBe(0);
  });
});
