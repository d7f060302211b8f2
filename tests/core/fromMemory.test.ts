/**
 * Soft checks: the values here are from memory of the literature and were not seen in print. They only ask whether the
 * engine lies in the same country; none of them may ever be tightened into a limit without a source.
 */
import { describe, expect, it } from 'vitest';
import { HARRINGTON_MINGES, MESOAMERICAN } from '../../src/core/outlook/cardinalModels.ts';
import { daysToEmergence } from '../../src/core/outlook/dailyProgress.ts';
import { middle } from '../../src/core/yield/band.ts';
import { gapPenalty } from '../../src/core/yield/gapPenalty.ts';

describe('from memory, not confirmed', () => {
  // Angus and others 1981, navy bean: base about 10.6 C, about 52 degree-days. Never mixed with another base here.
  it('navy at 20 C after Angus lies between the quick and the slow account', () => {
    const angus = 52 / (20 - 10.6);
    expect(angus).toBeGreaterThan(daysToEmergence(20, MESOAMERICAN)!);
    expect(angus).toBeLessThan(daysToEmergence(20, HARRINGTON_MINGES)!);
  });

  // Pepper, Illinois Circular 1317, soybean at full stand: percent of yield with 0 to 60 % of the row in gaps.
  it('gap penalties go about as the soybean matrix', () => {
    [100, 98, 96, 93, 89, 84, 78].forEach((percent, i) => {
      expect(Math.abs(middle(gapPenalty(i / 10).factor) * 100 - percent)).toBeLessThan(8);
    });
  });
});
