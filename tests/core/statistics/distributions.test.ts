import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import jStat from 'jstat';
import { describe, expect, it } from 'vitest';
import { betaCdf, betaQuantile } from '../../../src/core/statistics/beta.ts';
import { binomialCdf, binomialPmf } from '../../../src/core/statistics/binomial.ts';
import { chiSquareCdf, chiSquareQuantile, chiSquareUpper } from '../../../src/core/statistics/chiSquare.ts';
import { erf, erfc } from '../../../src/core/statistics/errorFunction.ts';
import { fUpper } from '../../../src/core/statistics/fDistribution.ts';
import { logGamma } from '../../../src/core/statistics/logGamma.ts';
import { negativeBinomialCdf, negativeBinomialPmf } from '../../../src/core/statistics/negativeBinomial.ts';
import { normalCdf, normalQuantile } from '../../../src/core/statistics/normal.ts';
import { poissonCdf, poissonInterval, poissonPmf } from '../../../src/core/statistics/poisson.ts';
import { studentTCdf, studentTQuantile } from '../../../src/core/statistics/studentT.ts';
import { wilsonInterval } from '../../../src/core/statistics/wilsonInterval.ts';

/** Made by SciPy: tests/reference/statistics/generate.py. Rows of arguments, the expected value last. */
const scipy = JSON.parse(
  readFileSync(new URL('../../reference/statistics/distributions.json', import.meta.url), 'utf8'),
) as Readonly<Record<string, readonly (readonly number[])[]>>;

/** Relative; a value below this size is compared with it instead, where both libraries run out of digits. */
const RELATIVE = 1e-9;
const LEAST = 1e-280;

function expectClose(found: number, wanted: number, what: string): void {
  expect(
    Math.abs(found - wanted) / Math.max(Math.abs(wanted), LEAST),
    `${what}: ${found}, SciPy ${wanted}`,
  ).toBeLessThan(RELATIVE);
}

const FUNCTIONS: Readonly<Record<string, (...args: number[]) => number>> = {
  logGamma,
  erf,
  erfc,
  normalQuantile,
  normalCdf,
  studentTCdf,
  studentTQuantile,
  chiSquareUpper,
  chiSquareQuantile,
  fUpper,
  betaCdf,
  betaQuantile,
  binomialPmf,
  binomialCdf,
  poissonPmf,
  poissonCdf,
  negativeBinomialPmf,
  negativeBinomialCdf,
};

describe('distributions against SciPy to 1e-9', () => {
  it.each(Object.keys(FUNCTIONS))('%s', (name) => {
    const rows = scipy[name]!;
    expect(rows.length).toBeGreaterThan(4);
    for (const row of rows) {
      const args = row.slice(0, -1);
      const wanted = row.at(-1)!;
      // chances over n have no meaning to compare
      if (wanted === 0) expect(FUNCTIONS[name]!(...args)).toBe(0);
      else expectClose(FUNCTIONS[name]!(...args), wanted, `${name}(${args.join(', ')})`);
    }
  });

  it('Wilson intervals', () => {
    for (const [k, n, level, low, high] of scipy.wilson!) {
      const found = wilsonInterval(k!, n!, level!);
      if (low === 0) expect(found.low).toBe(0);
      else expectClose(found.low, low!, `Wilson low ${k}/${n}`);
      expectClose(found.high, high!, `Wilson high ${k}/${n}`);
    }
  });

  it('exact Poisson intervals', () => {
    for (const [count, level, low, high] of scipy.poissonInterval!) {
      const found = poissonInterval(count!, level!);
      if (low === 0) expect(found.low).toBe(0);
      else expectClose(found.low, low!, `Poisson low ${count}`);
      expectClose(found.high, high!, `Poisson high ${count}`);
    }
  });
});

describe('distributions against jStat (a general-purpose statistics library)', () => {
  // jStat's own quantiles stop near 1e-8
  const JSTAT = 1e-6;
  it('t, chi-square, F and beta quantiles and tails', () => {
    for (const p of [0.05, 0.4, 0.95, 0.995]) {
      for (const df of [2, 5, 40]) {
        expect(Math.abs(studentTQuantile(p, df) - jStat.studentt.inv(p, df))).toBeLessThan(JSTAT * 10);
        expect(Math.abs(chiSquareQuantile(p, df) - jStat.chisquare.inv(p, df))).toBeLessThan(JSTAT * 100);
      }
    }
    expect(fUpper(3.2, 4, 17)).toBeCloseTo(1 - jStat.centralF.cdf(3.2, 4, 17), 8);
    expect(betaCdf(0.31, 2.5, 6)).toBeCloseTo(jStat.beta.cdf(0.31, 2.5, 6), 8);
  });

  it('negative binomial', () => {
    for (const [mean, k] of [
      [6, 2],
      [30, 5],
    ] as const) {
      for (const count of [0, 3, 25]) {
        expect(negativeBinomialPmf(count, mean, k)).toBeCloseTo(jStat.negbin.pdf(count, k, k / (k + mean)), 10);
      }
    }
  });
});

describe('what must hold whatever the numbers', () => {
  const share = fc.double({ min: 0.001, max: 0.999, noNaN: true });
  const df = fc.double({ min: 0.8, max: 400, noNaN: true });

  it('a quantile undoes its distribution function', () => {
    fc.assert(
      fc.property(share, df, (p, n) => {
        expect(studentTCdf(studentTQuantile(p, n), n)).toBeCloseTo(p, 10);
        expect(chiSquareCdf(chiSquareQuantile(p, n), n)).toBeCloseTo(p, 10);
        expect(normalCdf(normalQuantile(p))).toBeCloseTo(p, 12);
        expect(betaCdf(betaQuantile(p, n, 3), n, 3)).toBeCloseTo(p, 10);
      }),
    );
  });

  it('chances of counts add up to the distribution function, and to 1', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 20, noNaN: true }),
        fc.double({ min: 0.2, max: 30, noNaN: true }),
        (mean, k) => {
          let [poisson, clumped] = [0, 0];
          for (let count = 0; count <= 12; count++) {
            poisson += poissonPmf(count, mean);
            clumped += negativeBinomialPmf(count, mean, k);
          }
          expect(poisson).toBeCloseTo(poissonCdf(12, mean), 11);
          expect(clumped).toBeCloseTo(negativeBinomialCdf(12, mean, k), 11);
        },
      ),
    );
  });

  it('Wilson mirrors: failures in place of successes', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 500 }), fc.double({ min: 0, max: 1, noNaN: true }), (n, part) => {
        const k = Math.round(n * part);
        const one = wilsonInterval(k, n, 0.9);
        const other = wilsonInterval(n - k, n, 0.9);
        expect(one.low).toBeCloseTo(1 - other.high, 12);
        expect(one.low).toBeLessThanOrEqual(k / n);
        expect(one.high).toBeGreaterThanOrEqual(k / n);
      }),
    );
  });

  it('edges and misuse', () => {
    expect(normalQuantile(0.5)).toBe(0);
    expect(normalQuantile(1)).toBe(Number.POSITIVE_INFINITY);
    expect(binomialPmf(0, 10, 0)).toBe(1);
    expect(binomialCdf(10, 10, 0.3)).toBe(1);
    expect(binomialCdf(-1, 10, 0.3)).toBe(0);
    expect(poissonPmf(2, 0)).toBe(0);
    expect(() => studentTQuantile(1, 5)).toThrow(RangeError);
    expect(() => studentTCdf(1, 0)).toThrow(RangeError);
    expect(() => wilsonInterval(0, 0, 0.9)).toThrow(RangeError);
    expect(() => wilsonInterval(1, 5, 90)).toThrow(RangeError);
    expect(() => poissonInterval(1.5, 0.9)).toThrow(RangeError);
    expect(() => logGamma(0)).toThrow(RangeError);
  });
});

describe('published values', () => {
  it('Student t of the NIST/SEMATECH e-Handbook 1.3.5.2 tables', () => {
    expect(studentTQuantile(0.975, 194)).toBeCloseTo(1.972268, 6);
    expect(studentTQuantile(0.95, 194)).toBeCloseTo(1.652746, 6);
    expect(studentTQuantile(0.995, 194)).toBeCloseTo(2.601409, 6);
    expect(studentTQuantile(0.75, 194)).toBeCloseTo(0.675756, 6);
    expect(studentTQuantile(0.95, 2)).toBeCloseTo(2.92, 3);
    expect(studentTQuantile(0.975, 2)).toBeCloseTo(4.303, 3);
    expect(studentTQuantile(0.9995, 2)).toBeCloseTo(31.599, 3);
    // t of the same example against 38.9, two-sided p 0.1869
    expect(2 * studentTCdf(-1.97566, 2)).toBeCloseTo(0.1869, 4);
  });

  it('Wilson 85 of 100 and 20 of 25 at 95 % (definition, Wilson 1927)', () => {
    expect(wilsonInterval(85, 100, 0.95).low).toBeCloseTo(0.7672, 4);
    expect(wilsonInterval(85, 100, 0.95).high).toBeCloseTo(0.9069, 4);
    expect(wilsonInterval(20, 25, 0.95).low).toBeCloseTo(0.6087, 4);
    expect(wilsonInterval(20, 25, 0.95).high).toBeCloseTo(0.9114, 4);
  });
});
