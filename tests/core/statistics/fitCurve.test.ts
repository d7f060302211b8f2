import { describe, expect, it } from 'vitest';
import { fitCurve } from '../../../src/core/statistics/fitCurve.ts';
import { solveLinear } from '../../../src/core/statistics/solveLinear.ts';

/** NIST StRD nonlinear, Ratkowsky2 (www.itl.nist.gov/div898/strd/nls/data/ratkowsky2.shtml). */
const RAT42 = (
  [
    [9, 8.93],
    [14, 10.8],
    [21, 18.59],
    [28, 22.33],
    [42, 39.35],
    [57, 56.11],
    [63, 61.73],
    [70, 64.62],
    [79, 67.08],
  ] as const
).map(([x, y]) => ({ x, y }));

const logistic = (x: number, b: readonly number[]) => b[0]! / (1 + Math.exp(b[1]! - b[2]! * x));

describe('fitCurve', () => {
  it.each([
    ['start 1 of NIST', [100, 1, 0.1]],
    ['start 2 of NIST', [75, 2.5, 0.07]],
  ])('Rat42, %s: certified parameters, standard errors and residuals to 1e-6', (_, start) => {
    const fit = fitCurve(logistic, RAT42, start);
    expect(fit.ok).toBe(true);
    if (!fit.ok) return;
    const near = (found: number, wanted: number) => expect(Math.abs(found / wanted - 1)).toBeLessThan(1e-6);
    const { parameters, standardErrors, residualSumOfSquares, residualSd } = fit.value;
    near(parameters[0]!, 72.462237576);
    near(parameters[1]!, 2.6180768402);
    near(parameters[2]!, 0.067359200066);
    near(standardErrors![0]!, 1.7340283401);
    near(standardErrors![1]!, 0.088295217536);
    near(standardErrors![2]!, 0.0034465663377);
    near(residualSumOfSquares, 8.0565229338);
    near(residualSd!, 1.1587725499);
    // the turn of the curve, b2 / b3 (computed)
    near(parameters[1]! / parameters[2]!, 38.8674);
  });

  it('Hill curve through the germination set of germinationmetrics (ICAR-NBPGR, R package): b 9.881937, c 6.034954', () => {
    const daily = [0, 0, 0, 0, 4, 17, 10, 7, 1, 0, 1, 0, 0, 0];
    let sum = 0;
    const points = daily.map((n, i) => {
      sum += n;
      return { x: i + 1, y: (100 * sum) / 50 };
    });
    const fit = fitCurve((x, [b, c]) => (80 * x ** b!) / (c! ** b! + x ** b!), points, [5, 7]);
    expect(fit.ok).toBe(true);
    if (!fit.ok) return;
    expect(fit.value.parameters[0]).toBeCloseTo(9.881937, 4);
    expect(fit.value.parameters[1]).toBeCloseTo(6.034954, 4);
  });

  it('order of the points does not matter', () => {
    const one = fitCurve(logistic, RAT42, [75, 2.5, 0.07]);
    const other = fitCurve(logistic, [...RAT42].reverse(), [75, 2.5, 0.07]);
    expect(one.ok && other.ok).toBe(true);
    if (!one.ok || !other.ok) return;
    for (const [i, p] of one.value.parameters.entries()) expect(other.value.parameters[i]! / p).toBeCloseTo(1, 8);
  });

  it('refuses too few points, a bad start, and points that tell nothing', () => {
    expect(fitCurve(logistic, RAT42.slice(0, 2), [75, 2.5, 0.07])).toMatchObject({ ok: false, code: 'too few points' });
    expect(fitCurve(logistic, RAT42, [75, Number.NaN, 1])).toMatchObject({ ok: false, code: 'bad start' });
    const flat = [1, 2, 3, 4].map((x) => ({ x, y: 0 }));
    expect(fitCurve((x, [a, b]) => a! * b! * x, flat, [1, 1])).toMatchObject({ ok: false, code: 'not determined' });
  });

  it('as many points as parameters: fits, and gives no standard errors', () => {
    const fit = fitCurve(
      (x, [a, b]) => a! + b! * x,
      [
        { x: 0, y: 1 },
        { x: 2, y: 5 },
      ],
      [0, 0],
    );
    expect(fit.ok && fit.value.parameters[1]).toBeCloseTo(2, 8);
    expect(fit.ok && fit.value.standardErrors).toBeNull();
  });
});

describe('solveLinear', () => {
  it('solves, pivots, and says when it cannot', () => {
    expect(
      solveLinear(
        [
          [0, 2],
          [3, 1],
        ],
        [4, 5],
      ),
    ).toEqual([1, 2]);
    expect(
      solveLinear(
        [
          [1, 2],
          [2, 4],
        ],
        [1, 2],
      ),
    ).toBeNull();
  });
});
