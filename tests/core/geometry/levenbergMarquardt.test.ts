import { describe, expect, it } from 'vitest';
import { levenbergMarquardt } from '../../../src/core/geometry/levenbergMarquardt.ts';
import { sigmaPoints } from '../../../src/core/geometry/sigmaPoints.ts';

describe('levenbergMarquardt', () => {
  it('reaches the minimum of the Rosenbrock valley (Rosenbrock 1960: at 1, 1)', () => {
    const fit = levenbergMarquardt(([x, y]) => [10 * (y! - x! * x!), 1 - x!], [-1.2, 1], [1e-5, 1e-5], 100);
    expect(fit.parameters[0]).toBeCloseTo(1, 8);
    expect(fit.parameters[1]).toBeCloseTo(1, 8);
  });

  it('gives the textbook covariance of a straight-line fit', () => {
    // y = a + b x at x = 0..4 with unit sd: var(b) = 1 / sum (x - 2)^2 = 1/10, var(a) = 1/5 + 4/10.
    const x = [0, 1, 2, 3, 4];
    const y = [1, 2.5, 2.9, 4.4, 5];
    const fit = levenbergMarquardt(([a, b]) => x.map((v, i) => a! + b! * v - y[i]!), [0, 0], [1e-4, 1e-4]);
    expect(fit.covariance![1]![1]).toBeCloseTo(0.1, 8);
    expect(fit.covariance![0]![0]).toBeCloseTo(0.6, 8);
  });

  it('says when a parameter is not fixed, and refuses a start beyond the horizon', () => {
    expect(levenbergMarquardt(([a, b]) => [a! + b! - 1], [0, 0], [1e-4, 1e-4]).covariance).toBeNull();
    const lost = levenbergMarquardt(([a]) => [Math.sqrt(a!)], [-1], [1e-4]);
    expect(lost.cost).toBe(Number.POSITIVE_INFINITY);
    expect(lost.covariance).toBeNull();
  });
});

describe('sigmaPoints', () => {
  it('has the mean and covariance asked for', () => {
    const mean = [1, -2, 0.5];
    const covariance = [
      [4, 1, 0.5],
      [1, 3, -0.2],
      [0.5, -0.2, 1],
    ];
    const points = sigmaPoints(mean, covariance);
    expect(points).toHaveLength(6);
    for (let i = 0; i < 3; i++) {
      expect(points.reduce((sum, p) => sum + p[i]!, 0) / 6).toBeCloseTo(mean[i]!, 12);
      for (let j = 0; j < 3; j++) {
        const got = points.reduce((sum, p) => sum + (p[i]! - mean[i]!) * (p[j]! - mean[j]!), 0) / 6;
        expect(got).toBeCloseTo(covariance[i]![j]!, 12);
      }
    }
  });
});
