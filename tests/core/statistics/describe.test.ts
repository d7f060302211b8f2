import fc from 'fast-check';
import { expect, it, describe as suite } from 'vitest';
import { autocorrelation } from '../../../src/core/statistics/autocorrelation.ts';
import { describe } from '../../../src/core/statistics/describe.ts';
import { HEIGHTS, LEW, LOTTERY, MAVRO, MICHELSO } from './certifiedSets.ts';

const NUMACC1 = [10000001, 10000003, 10000002];
const NUMACC4 = [10000000.2, ...Array.from({ length: 1000 }, (_, i) => 10000000 + (i % 2 === 0 ? 0.1 : 0.3))];

suite('NIST certified univariate sets (www.itl.nist.gov/div898/strd/univ)', () => {
  // 1e-9; NumAcc4's data themselves are only good to 1e-9 of 1e7, that is 1e-8 of its SD
  it.each([
    ['Lottery', LOTTERY, 218, 518.95871559633, 291.699727470969, -0.120948622967393, 1e-9],
    ['Lew', LEW, 200, -177.435, 277.332168044316, -0.307304800605679, 1e-9],
    ['Mavro', MAVRO, 50, 2.001856, 0.000429123454003053, 0.937989183438248, 1e-9],
    ['Michelso', MICHELSO, 100, 299.8524, 0.0790105478190518, 0.535199668621283, 1e-9],
    ['NumAcc1', NUMACC1, 3, 10000002, 1, -0.5, 1e-15],
    ['NumAcc4', NUMACC4, 1001, 10000000.2, 0.1, -0.999, 2e-8],
  ] as const)('%s: mean, SD, lag-1 autocorrelation', (_, data, n, mean, sd, r1, relative) => {
    const found = describe(data);
    expect(found.n).toBe(n);
    expect(Math.abs(found.mean! / mean - 1)).toBeLessThanOrEqual(1e-14);
    expect(Math.abs(found.sd! / sd - 1)).toBeLessThan(relative);
    expect(Math.abs(autocorrelation(data, 1)! / r1 - 1)).toBeLessThan(relative);
  });
});

suite('describe', () => {
  it('75 heights: mean 64.56667, SD 2.188998 (SAS/STAT UNIVARIATE Example 4.9, computed from its data)', () => {
    const { n, mean, sd } = describe(HEIGHTS);
    expect(n).toBe(75);
    expect(mean).toBeCloseTo(64.56667, 5);
    expect(sd).toBeCloseTo(2.188998, 6);
  });

  it('none, one, all equal, mean 0', () => {
    expect(describe([])).toEqual({ n: 0, mean: null, variance: null, sd: null, cv: null });
    expect(describe([7])).toEqual({ n: 1, mean: 7, variance: null, sd: null, cv: null });
    expect(describe([0.1, 0.1, 0.1])).toMatchObject({ n: 3, sd: 0, cv: 0 });
    expect(describe([-1, 1]).cv).toBeNull();
  });

  it('order does not matter, a shift moves the mean alone, a scale scales both', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 1000, noNaN: true }), { minLength: 2, maxLength: 40 }),
        fc.integer({ min: 1, max: 20 }),
        (values, by) => {
          const one = describe(values);
          const turned = describe([...values].reverse());
          const shifted = describe(values.map((v) => v + by));
          const scaled = describe(values.map((v) => v * by));
          expect(turned.mean).toBeCloseTo(one.mean!, 9);
          expect(turned.sd).toBeCloseTo(one.sd!, 9);
          expect(shifted.mean).toBeCloseTo(one.mean! + by, 9);
          expect(shifted.sd).toBeCloseTo(one.sd!, 8);
          expect(scaled.sd).toBeCloseTo(one.sd! * by, 7);
        },
      ),
    );
  });
});

suite('autocorrelation', () => {
  it('has nothing to say of a short or flat series', () => {
    expect(autocorrelation([1], 1)).toBeNull();
    expect(autocorrelation([2, 2, 2], 1)).toBeNull();
    expect(() => autocorrelation([1, 2], 0)).toThrow(RangeError);
  });
});
