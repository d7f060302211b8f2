import { describe, expect, it } from 'vitest';
import {
  type EvenPrint,
  type PossibleReading,
  possibleReadings,
} from '../../../../src/core/reference/tape/possibleReadings.ts';

/** A print of so many periods over a tape seen square on, followed well. */
const print = (periods: number, score: number, gain: number, likeness: number): EvenPrint => ({
  c: 0,
  perT: periods / 2,
  offset: 0,
  likeness,
  gain,
  lean: 0,
  agreeing: 0.95,
  followed: true,
  spread: 0.02,
  lengthSdPeriods: 0.02,
  places: [],
  score,
});
const best = (fits: readonly EvenPrint[]) => possibleReadings(fits).reduce((a, b) => (b.worth > a.worth ? b : a));
const worthOf = (readings: readonly PossibleReading[], system: string, lengthM: number): number =>
  readings.find((r) => r.system === system && Math.abs(r.lengthM / lengthM - 1) < 0.002)!.worth;

describe('possibleReadings', () => {
  it('knows inches by their halves, quarters and eighths, though the quarters stand out most', () => {
    const seen = [
      print(68, 7, 0.37, 0.48),
      print(136, 7, 0.34, 0.42),
      print(272, 11.4, 0.39, 0.46),
      print(544, 11.8, 0.3, 0.5),
    ];
    const reading = best(seen);
    expect(reading.system).toBe('in');
    expect(reading.lengthM).toBeCloseTo(68 * 0.0254, 6);
    expect(reading.ownParts).toBe(true);
  });

  it('is not misled where figures, odd and even in turn, make every second centimetre a little alike', () => {
    const seen = [print(310, 17, 0.16, 0.31), print(155, 12, 0.12, 0.26)];
    const cm = possibleReadings(seen).filter((r) => r.system === 'cm');
    const [one, two] = [310, 155].map((n) => cm.find((r) => Math.abs(r.lengthM - n * 0.01) < 1e-6)!.worth);
    // the shorter one leads; how far is for the marks each 10 cm to say
    expect(one! - two!).toBeGreaterThan(0);
  });

  it('gives both systems for one period alone: nothing but the width of the tape can tell then', () => {
    const worth = new Map(
      possibleReadings([print(100, 10, 0.3, 0.5)]).map((r) => [`${r.system} ${r.lengthM.toFixed(3)}`, r.worth]),
    );
    expect(worth.get('in 2.540')).toBe(worth.get('cm 1.000'));
  });

  it('counts no quarter inch that thirds, which no inch tape has, outdo: it is an overtone of bare marks', () => {
    const seen = [print(45, 23, 0.94, 0.94), print(135, 6.4, 0.37, 0.61), print(180, 5.1, 0.39, 0.65)];
    expect(best(seen).ownParts).toBe(false);
    expect(best([seen[0]!, seen[2]!]).ownParts).toBe(true);
  });

  it('holds to the clearest period, though its phase is lost and chance is followed elsewhere', () => {
    // A centimetre tape seen along itself, two pixels a mark at its far end; 352 is chance.
    const lost = { ...print(258, 7.6, 0.05, 0), followed: false, agreeing: 0.5 };
    const chance = { ...print(352, 5.3, 0.32, 0.31), agreeing: 0.67, spread: 0.18 };
    const readings = possibleReadings([lost, chance]);
    expect(worthOf(readings, 'cm', 2.58)).toBeGreaterThan(worthOf(readings, 'cm', 3.52));
  });

  it('takes eighths for eighths, though they slipped by three per cent', () => {
    const eighths = { ...print(613, 8.6, 0.19, 0.45), agreeing: 1, spread: 0.24 };
    const readings = possibleReadings([eighths, print(74.25, 6.5, 0.24, 0.4), print(148.5, 5.8, 0.1, 0.25)]);
    expect(worthOf(readings, 'in', 74.25 * 0.0254)).toBeGreaterThan(worthOf(readings, 'in', (613 / 8) * 0.0254));
  });

  it('gives nothing for no print', () => {
    expect(possibleReadings([])).toEqual([]);
  });
});
