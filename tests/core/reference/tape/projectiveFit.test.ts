import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { projectiveFit } from '../../../../src/core/reference/tape/projectiveFit.ts';

const line = (c: number, perT: number, offset: number, count: number) =>
  Array.from({ length: count }, (_, i) => {
    const u = -0.95 + (1.9 * i) / (count - 1);
    return { u, reading: (perT * u) / (1 + c * u) + offset, weight: 1 };
  });

describe('projectiveFit', () => {
  it('recovers any map it is given from a rough start', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -0.6, max: 0.6, noNaN: true }),
        fc.double({ min: 10, max: 200, noNaN: true }),
        fc.double({ min: -2, max: 2, noNaN: true }),
        (c, perT, offset) => {
          const fit = projectiveFit(line(c, perT, offset, 20), c + 0.02, perT * 1.02);
          expect(fit?.c).toBeCloseTo(c, 5);
          expect((fit?.perT ?? 0) / perT).toBeCloseTo(1, 5);
        },
      ),
      { numRuns: 60, seed: 4 },
    );
  });

  it('is not moved by a slipped place', () => {
    const places = line(0.3, 60, 0.2, 20);
    places[4] = { ...places[4]!, reading: places[4]!.reading + 1 };
    expect(projectiveFit(places, 0.31, 61)?.perT).toBeCloseTo(60, 3);
  });

  it('needs four places', () => {
    expect(projectiveFit(line(0, 10, 0, 3), 0, 10)).toBeNull();
  });
});
