import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { viableShare } from '../../../src/core/damage/viableShare.ts';

const none = { growing: 0, budsAlive: 0, doubtful: 0, dead: 0 };

describe('viableShare', () => {
  // Seed-company agronomy notes on soybean stands: questionable plants count one half.
  it('80 sure and 10 questionable plants count 85', () => {
    expect(viableShare({ ...none, growing: 70, budsAlive: 10, doubtful: 10, dead: 10 })!.counts).toBe(85);
  });

  // Wilson 1927 by its definition: 85 of 100 at 95 % is 0.7672 to 0.9069, 20 of 25 is 0.6087 to 0.9114.
  it('is plain Wilson where nothing is doubtful', () => {
    const made = viableShare({ ...none, growing: 85, dead: 15 }, 0.95)!;
    expect(made.low).toBeCloseTo(0.7672, 4);
    expect(made.high).toBeCloseTo(0.9069, 4);
    const few = viableShare({ ...none, growing: 20, dead: 5 }, 0.95)!;
    expect(few.low).toBeCloseTo(0.6087, 4);
    expect(few.high).toBeCloseTo(0.9114, 4);
  });

  it('doubt widens it, and none judged is no answer', () => {
    const sure = viableShare({ ...none, growing: 50, dead: 50 })!;
    const doubtful = viableShare({ ...none, growing: 40, doubtful: 20, dead: 40 })!;
    expect(doubtful.value).toBe(sure.value);
    expect(doubtful.high - doubtful.low).toBeGreaterThan(sure.high - sure.low);
    expect(viableShare(none)).toBeNull();
  });

  it('its value lies inside, and one more living plant never lowers it', () => {
    const n = fc.integer({ min: 0, max: 200 });
    fc.assert(
      fc.property(n, n, n, n, (growing, budsAlive, doubtful, dead) => {
        const made = viableShare({ growing, budsAlive, doubtful, dead });
        if (made === null) return;
        expect(made.low).toBeLessThanOrEqual(made.value + 1e-12);
        expect(made.high).toBeGreaterThanOrEqual(made.value - 1e-12);
        expect(viableShare({ growing: growing + 1, budsAlive, doubtful, dead })!.value).toBeGreaterThanOrEqual(
          made.value,
        );
      }),
    );
  });
});
