import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countInterval } from '../../../src/core/plants/countInterval.ts';
import type { Detection, PlantKind } from '../../../src/core/plants/detection.ts';

function mark(confidence: number, kind: PlantKind = 'plant', doubleChance = 0): Detection {
  return {
    id: 'p',
    baseStripPx: [0, 0],
    crownStripPx: [0, 0],
    kind,
    confidence,
    doubleChance,
    leafAreaMm2: 1,
    boxStripPx: [0, 0, 0, 0],
    alongSdMm: 1,
  };
}

const marks = fc.array(
  fc.record({
    confidence: fc.double({ min: 0, max: 1, noNaN: true }),
    double: fc.double({ min: 0, max: 0.5, noNaN: true }),
    kind: fc.constantFrom<PlantKind>('plant', 'weed', 'unsure'),
  }),
  { maxLength: 60 },
);

describe('countInterval', () => {
  it('counts the plants and holds them, in whole numbers', () => {
    fc.assert(
      fc.property(marks, fc.double({ min: 0.5, max: 0.99, noNaN: true }), (list, level) => {
        const c = countInterval(
          list.map((m) => mark(m.confidence, m.kind, m.double)),
          level,
        );
        expect(c.value).toBe(list.filter((m) => m.kind === 'plant').length);
        expect(c.low).toBeGreaterThanOrEqual(0);
        expect(c.low <= c.value && c.value <= c.high).toBe(true);
        expect(Number.isInteger(c.low) && Number.isInteger(c.high)).toBe(true);
        expect(c.level).toBe(level);
      }),
    );
  });

  it('widens with the level and with doubt', () => {
    const sure = Array.from({ length: 30 }, () => mark(0.98));
    const doubtful = Array.from({ length: 30 }, () => mark(0.6));
    const width = (list: Detection[], level: number): number => {
      const { low, high } = countInterval(list, level);
      return high - low;
    };
    expect(width(sure, 0.99)).toBeGreaterThan(width(sure, 0.5));
    expect(width(doubtful, 0.9)).toBeGreaterThan(width(sure, 0.9));
  });

  it('does not claim to know that an empty row is empty', () => {
    // no mark, 0.2 unseen plants expected: chance of none is exp(-0.2) = 0.82, so 0.95 is reached at 1
    expect(countInterval([], 0.9)).toMatchObject({ value: 0, low: 0, high: 1 });
  });

  it('reaches up for hidden doubles and weeds that may be crop, down for plants that may be none', () => {
    const plain = countInterval(
      Array.from({ length: 20 }, () => mark(0.95)),
      0.9,
    );
    const doubles = countInterval(
      Array.from({ length: 20 }, () => mark(0.6, 'plant', 0.4)),
      0.9,
    );
    expect(doubles.high).toBeGreaterThan(plain.high);
    const weeds = countInterval(
      [...Array.from({ length: 20 }, () => mark(0.95)), ...Array.from({ length: 10 }, () => mark(0.4, 'unsure'))],
      0.9,
    );
    expect(weeds.value).toBe(20);
    expect(weeds.high).toBeGreaterThan(plain.high);
    expect(
      countInterval(
        Array.from({ length: 20 }, () => mark(0.55)),
        0.9,
      ).low,
    ).toBeLessThan(plain.low);
  });

  it.each([0, 1, -0.1, Number.NaN])('refuses a level of %s', (level) => {
    expect(() => countInterval([], level)).toThrow(RangeError);
  });
});
