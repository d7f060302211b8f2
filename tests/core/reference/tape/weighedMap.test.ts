import { describe, expect, it } from 'vitest';
import type { FollowedPrint } from '../../../../src/core/reference/tape/followPrint.ts';
import { lengthOf } from '../../../../src/core/reference/tape/possibleReadings.ts';
import { weighedMap } from '../../../../src/core/reference/tape/weighedMap.ts';

const period = { c: -0.4, perT: 126, score: 7 };
const L = lengthOf(period);
/** Phases that lead to a length so much (share) longer. */
const phases = (longer: number, from = -0.97, to = 0.97, spread = 0.15): FollowedPrint => ({
  c: period.c,
  perT: period.perT * (1 + longer),
  offset: 0.3,
  likeness: 0.25,
  gain: 0.1,
  lean: 0,
  agreeing: spread < 0.1 ? 0.9 : 0.45,
  followed: true,
  spread,
  lengthSdPeriods: 0.2,
  places: [from, 0, 0.5, to].map((u) => ({ u, reading: u })),
});
const weighed = (p: FollowedPrint | null): FollowedPrint => weighedMap(phases(0), period, p)!;
const off = (longer: number): number => lengthOf(weighed(phases(longer))) / L - 1;

describe('weighedMap', () => {
  it('lies between the periods and the phases while they are near one another', () => {
    expect(off(0.004)).toBeGreaterThan(0.001);
    expect(off(0.004)).toBeLessThan(0.004);
    expect(weighed(null).perT).toBeCloseTo(period.perT, 3);
  });

  it('periods of the whole band at once, where they are clear, take the place of local ones, and narrow the doubt', () => {
    const whole = { c: -0.41, perT: 125, score: 8 };
    const map = weighedMap(phases(0), period, phases(0), whole)!;
    // their doubt is 0.2 % against 0.5 % and more of the phases
    expect(Math.abs(lengthOf(map) / lengthOf(whole) - 1)).toBeLessThan(0.2 * Math.abs(L / lengthOf(whole) - 1));
    expect(weighedMap(phases(0), period, null, period)!.lengthSdPeriods).toBeLessThan(
      weighed(null).lengthSdPeriods / 2,
    );
  });

  it('phases that lead far away hardly pull: half the doubt of the periods at most', () => {
    // Weight 1 / (sd^2 + distance^2) pulls most at a distance of sd, and never by more than the periods' sd / 2.
    for (let longer = 0; longer < 0.03; longer += 0.0005) expect(off(longer)).toBeLessThan(0.0031);
    expect(off(0.03)).toBeLessThan(off(0.006));
  });

  it('phases that all but agree with themselves are believed, however far', () => {
    const even = phases(0.01, -0.97, 0.97, 0.02);
    expect(lengthOf(weighed(even)) / L - 1).toBeGreaterThan(0.005);
  });

  it('changes smoothly: no choice turns on a last bit', () => {
    for (let longer = -0.03; longer < 0.03; longer += 0.0005) {
      expect(Math.abs(off(longer + 0.0005) - off(longer))).toBeLessThan(0.0005);
    }
  });

  it('says more doubt where the two differ, and where the print ends before the band', () => {
    expect(weighed(phases(0.006)).lengthSdPeriods).toBeGreaterThan(weighed(phases(0)).lengthSdPeriods);
    expect(weighed(phases(0, -0.97, 0.4)).lengthSdPeriods).toBeGreaterThan(1.3 * weighed(phases(0)).lengthSdPeriods);
  });
});
