import { describe, expect, it } from 'vitest';
import { bestEmergenceCurve, dayOfShare, fitEmergence } from '../../../src/core/outlook/emergenceCurve.ts';
import { emergenceMoments } from '../../../src/core/outlook/emergenceMoments.ts';

// germinationmetrics (ICAR-NBPGR, R package), worked set: newly germinated on days 1 to 14 of 50 seeds.
const NEW_PER_DAY = [0, 0, 0, 0, 4, 17, 10, 7, 1, 0, 1, 0, 0, 0];
const SEEDS = 50;
const daily = NEW_PER_DAY.map((newPlants, i) => ({ day: i + 1, newPlants }));
const totals = daily.map((d, i) => ({
  x: d.day,
  y: (NEW_PER_DAY.slice(0, i + 1).reduce((sum, n) => sum + n, 0) / SEEDS) * 100,
}));

describe('emergenceMoments', () => {
  it('agrees with germinationmetrics', () => {
    const made = emergenceMoments(daily)!;
    expect(made.plants / SEEDS).toBe(0.8);
    expect(made.meanDays).toBeCloseTo(6.7, 12);
    expect(made.varianceDays2).toBeCloseTo(1.446153846, 9);
    expect(made.standardErrorDays).toBeCloseTo(0.190141648, 9);
    expect(made.cv).toBeCloseTo(0.179486771, 9);
    expect(made.t50CoolbearDays).toBeCloseTo(5.970588235, 9);
    expect(made.t50FarooqDays).toBeCloseTo(5.941176471, 9);
  });

  it('order of the days does not matter, and nothing up says nothing', () => {
    expect(emergenceMoments([...daily].reverse())).toEqual(emergenceMoments(daily));
    expect(emergenceMoments([])).toBeNull();
    expect(emergenceMoments([{ day: 3, newPlants: 0 }])).toBeNull();
    expect(emergenceMoments([{ day: 3, newPlants: 1 }])).toMatchObject({ meanDays: 3, varianceDays2: 0 });
  });
});

describe('fitEmergence', () => {
  // germinationmetrics Hill fit with the final held at 80 %; printed to 6 or 7 figures, checked to 1e-4 as it iterates.
  it('Hill agrees with germinationmetrics', () => {
    const fit = fitEmergence('hill', totals, 80);
    if (!fit.ok) throw new Error(fit.found);
    expect(fit.value.b).toBeCloseTo(9.881937, 4);
    expect(fit.value.t50Days).toBeCloseTo(6.034954, 4);
    expect(dayOfShare(fit.value, 50 / 80)).toBeCloseTo(6.355121, 4);
    expect(dayOfShare(fit.value, 0.1)).toBeCloseTo(4.831807, 4);
    expect(dayOfShare(fit.value, 0.9)).toBeCloseTo(7.53769, 4);
  });

  // NIST StRD nonlinear set Ratkowsky2, certified to 11 figures: y = b1 / (1 + exp(b2 - b3 x)).
  it('logistic agrees with the certified values of NIST Ratkowsky2', () => {
    const points = [
      [9, 8.93],
      [14, 10.8],
      [21, 18.59],
      [28, 22.33],
      [42, 39.35],
      [57, 56.11],
      [63, 61.73],
      [70, 64.62],
      [79, 67.08],
    ].map(([x, y]) => ({ x: x!, y: y! }));
    const fit = fitEmergence('logistic', points, null);
    if (!fit.ok) throw new Error(fit.found);
    const relative = (made: number, certified: number) => Math.abs(made / certified - 1);
    expect(relative(fit.value.final, 72.462237576)).toBeLessThan(1e-6);
    expect(relative(fit.value.b, 2.6180768402)).toBeLessThan(1e-6);
    expect(relative(fit.value.c, 0.067359200066)).toBeLessThan(1e-6);
    expect(relative(fit.value.residualSumOfSquares, 8.0565229338)).toBeLessThan(1e-6);
    expect(relative(fit.value.finalSe!, 1.7340283401)).toBeLessThan(1e-6);
    // b2 / b3, arithmetic on the certified values.
    expect(fit.value.t50Days).toBeCloseTo(38.8674, 4);
  });

  it.each([
    ['logistic', 6, 0.7, (x: number) => 90 / (1 + Math.exp(6 - 0.7 * x))],
    ['hill', 7, 9, (x: number) => (90 * x ** 7) / (9 ** 7 + x ** 7)],
    ['gompertz', 6, 0.7, (x: number) => 90 * Math.exp(-Math.exp(6 - 0.7 * x))],
  ] as const)('%s gets back the curve that made the counts', (shape, b, c, up) => {
    const fit = fitEmergence(
      shape,
      [5, 7, 9, 11, 13, 16, 20].map((x) => ({ x, y: up(x) })),
      null,
    );
    expect(fit.ok && fit.value.final).toBeCloseTo(90, 5);
    expect(fit.ok && fit.value.t50Days).toBeCloseTo(dayOfShare({ shape, b, c }, 0.5), 5);
    expect(up(dayOfShare({ shape, b, c }, 0.9))).toBeCloseTo(81, 9);
  });
});

describe('bestEmergenceCurve', () => {
  it('wants the final given below four counts', () => {
    const two = [
      { x: 9, y: 30 },
      { x: 12, y: 60 },
    ];
    expect(bestEmergenceCurve(two, null)).toMatchObject({ ok: false, code: 'too few counts' });
    const given = bestEmergenceCurve(two, 100);
    expect(given.ok && given.value.finalGiven).toBe(true);
    expect(given.ok && given.value.t50Days > 9 && given.value.t50Days < 12).toBe(true);
  });

  it('refuses counts that tell nothing', () => {
    expect(
      bestEmergenceCurve(
        [
          { x: 9, y: 0 },
          { x: 12, y: 0 },
        ],
        100,
      ).ok,
    ).toBe(false);
    expect(bestEmergenceCurve([], 100).ok).toBe(false);
    expect(fitEmergence('hill', [{ x: 5, y: 3 }], 100)).toMatchObject({ ok: false, code: 'too few counts' });
  });
});
