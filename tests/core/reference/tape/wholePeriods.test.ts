import { describe, expect, it } from 'vitest';
import { localPeriods } from '../../../../src/core/reference/tape/localPeriods.ts';
import { wholePeriods } from '../../../../src/core/reference/tape/wholePeriods.ts';
import { seeded } from '../../../support/drawLineScene.ts';

const COLUMNS = 1900;
const WIDTH_PX = 10;
const DIR = [0.98, 0.199] as const;

/** Four row groups of noise; marks of a height in two of them, `periods` of them over the band, foreshortened by c. */
function groups(periods: number, c: number, height: number, seed: number): Float32Array[] {
  const random = seeded(seed);
  const perT = (periods * (1 - c * c)) / 2;
  return [0, 1, 1, 0].map((share) =>
    Float32Array.from({ length: COLUMNS }, (_, k) => {
      const u = (2 * (k + 0.5)) / COLUMNS - 1;
      const phase = (perT * u) / (1 + c * u);
      const noise = random() + random() + random() - 1.5;
      return noise + share * height * (phase - Math.floor(phase) < 0.3 ? 0.7 : -0.3);
    }),
  );
}

const periodsOf = ({ c, perT }: { readonly c: number; readonly perT: number }): number => (2 * perT) / (1 - c * c);

describe('wholePeriods', () => {
  it('finds marks fainter than the noise, which no short stretch shows, to a third of a period in 120', () => {
    for (const c of [0, -0.03, 0.35]) {
      const signals = groups(120, c, 0.35, 3);
      expect(localPeriods(signals, c + 0.01, 0.05, 6, WIDTH_PX).filter((p) => p.score > 6)).toEqual([]);
      const [found] = wholePeriods(signals, c + 0.01, 0.05, 6, WIDTH_PX, DIR);
      expect(Math.abs(periodsOf(found!) - 120)).toBeLessThan(0.35);
      // a third of a period at the ends: c moves the middle against them by c / 2 of the band
      expect(Math.abs(found!.c - c)).toBeLessThan(0.006);
      expect(found!.score).toBeGreaterThan(6);
    }
  });

  it('finds none in noise alone', () => {
    for (let seed = 1; seed <= 12; seed++) {
      expect(wholePeriods(groups(120, 0, 0, seed), 0.01, 0.1, 6, WIDTH_PX, DIR)).toEqual([]);
    }
  });

  it('leaves out what the picture packs and steps by itself', () => {
    // blocks of 8 pixels across, 8 / 0.98 along the band; edges that step a row each 1 / 0.199
    for (const px of [8 / DIR[0], 4 / DIR[0], 1 / DIR[1]]) {
      const found = wholePeriods(groups(COLUMNS / px, 0, 0.6, 5), 0.001, 0.02, 6, WIDTH_PX, DIR);
      // foreshortened by more than a period end to end it would be no grid
      expect(found.filter(({ c }) => Math.abs(c) < 0.004)).toEqual([]);
    }
  });

  it('takes nothing that repeats at more than four widths for marks', () => {
    expect(wholePeriods(groups(40, 0, 0.8, 7), 0, 0.02, 6, WIDTH_PX, DIR).filter((p) => periodsOf(p) < 47)).toEqual([]);
    expect(wholePeriods(groups(40, 0, 0.8, 7), 0, 0.02, 6, 2 * WIDTH_PX, DIR)).not.toEqual([]);
  });
});
