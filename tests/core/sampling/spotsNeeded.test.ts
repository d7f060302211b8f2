import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { finiteFieldFactor, spotsAtT, spotsNeeded } from '../../../src/core/sampling/spotsNeeded.ts';
import { fitTaylorPower, spotsNeededByTaylor } from '../../../src/core/sampling/taylorPower.ts';
import { describe as summary } from '../../../src/core/statistics/describe.ts';
import { normalQuantile } from '../../../src/core/statistics/normal.ts';
import { studentTQuantile } from '../../../src/core/statistics/studentT.ts';

describe('spots needed, N = (t s / (d m))^2 (ICAR entomology course, sampling; numbers computed, t iterated)', () => {
  it.each([
    [0.25, 0.1, 0.95, 27],
    [0.2, 0.1, 0.95, 18],
    [0.3, 0.1, 0.95, 38],
    [0.25, 0.2, 0.95, 9],
    [0.25, 0.1, 0.9, 19],
  ])('CV %s, +-%s at %s: %s', (cv, precision, level, wanted) => {
    expect(spotsNeeded({ cv, precision, level })).toBe(wanted);
  });

  it('with z in place of t: 24.01, so 25', () => {
    expect(spotsAtT(normalQuantile(0.975), 0.25, 0.1)).toBeCloseTo(24.01, 2);
  });

  it('pilot of ten plots out of 156 (data of the CRAN forest-inventory sampling vignette): 30 at fixed t, 26 iterated', () => {
    const { mean, sd, cv, n } = summary([41, 33, 24, 31, 10, 32, 62, 16, 66, 25]);
    expect(mean).toBe(34);
    expect(sd).toBeCloseTo(18.1108, 4);
    expect(cv! * 100).toBeCloseTo(53.27, 2);
    const t = studentTQuantile(0.975, n - 1);
    expect(t).toBeCloseTo(2.2622, 4);
    expect(spotsAtT(t, cv!, 0.2, 156)).toBeCloseTo(29.45, 2);
    expect(spotsNeeded({ cv: cv!, precision: 0.2, level: 0.95, spotsInField: 156 })).toBe(26);
    // relative error of the pilot itself: 36.86 %
    const error = (t * (sd! / Math.sqrt(n)) * finiteFieldFactor(n, 156)) / mean!;
    expect(error * 100).toBeCloseTo(36.86, 2);
  });

  it('properties: wider spread or finer precision never needs fewer; a small field never more', () => {
    const share = fc.double({ min: 0.05, max: 0.6, noNaN: true });
    fc.assert(
      fc.property(share, share, (cv, precision) => {
        const one = spotsNeeded({ cv, precision, level: 0.9 })!;
        expect(spotsNeeded({ cv: cv * 1.2, precision, level: 0.9 })).toBeGreaterThanOrEqual(one);
        expect(spotsNeeded({ cv, precision: precision / 1.2, level: 0.9 })).toBeGreaterThanOrEqual(one);
        expect(spotsNeeded({ cv, precision, level: 0.9, spotsInField: 200 })).toBeLessThanOrEqual(one);
        expect(one).toBeGreaterThanOrEqual(2);
      }),
      { numRuns: 60 },
    );
  });

  it('edges: no spread, a precision out of reach, misuse', () => {
    expect(spotsNeeded({ cv: 0, precision: 0.1, level: 0.9 })).toBe(2);
    expect(spotsNeeded({ cv: 1, precision: 1e-5, level: 0.9 })).toBeNull();
    expect(() => spotsNeeded({ cv: 0.2, precision: 0, level: 0.9 })).toThrow(RangeError);
    expect(() => finiteFieldFactor(10, 5)).toThrow(RangeError);
    expect(finiteFieldFactor(5, 5)).toBe(0);
  });
});

describe("Taylor's power law", () => {
  it('finds a and b again, and is the plain formula where variance is a m^b', () => {
    const fields = [10, 20, 40, 80].map((mean) => ({ mean, variance: 1.7 * mean ** 1.4 }));
    const law = fitTaylorPower(fields);
    expect(law.ok).toBe(true);
    if (!law.ok) return;
    expect(law.value.a).toBeCloseTo(1.7, 10);
    expect(law.value.b).toBeCloseTo(1.4, 10);
    const cv = Math.sqrt(1.7 * 75 ** 1.4) / 75;
    const plain = Math.ceil((normalQuantile(0.95) * cv) ** 2 / 0.01);
    expect(spotsNeededByTaylor(law.value, 75, 0.1, 0.9)).toBe(plain);
  });

  it('a random stand (a 1, b 1) needs z^2 / (d^2 m) spots', () => {
    // 1.6449^2 / (0.01 x 20) = 13.53
    expect(spotsNeededByTaylor({ a: 1, b: 1 }, 20, 0.1, 0.9)).toBe(14);
  });

  it('wants three fields of different means', () => {
    expect(fitTaylorPower([{ mean: 5, variance: 5 }])).toMatchObject({ ok: false, code: 'too few fields' });
    const same = Array.from({ length: 4 }, () => ({ mean: 5, variance: 5 }));
    expect(fitTaylorPower(same)).toMatchObject({ ok: false, code: 'too few fields' });
    expect(() => spotsNeededByTaylor({ a: 1, b: 1 }, 0, 0.1, 0.9)).toThrow(RangeError);
  });
});
