import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatLength, formatRowWidth } from '../../../src/core/units/formatLength.ts';
import { formatPopulation } from '../../../src/core/units/formatPopulation.ts';
import { parseLength } from '../../../src/core/units/parseLength.ts';
import { thousandthAcreRowM } from '../../../src/core/units/rowLength.ts';

describe('formatPopulation', () => {
  it.each([
    [74_923.2, 'perAcre', '75,000 plants/ac'],
    [106_488, 'perAcre', '106,000 plants/ac'],
    [19_166, 'perAcre', '19,200 plants/ac'],
    [994, 'perAcre', '990 plants/ac'],
    [42, 'perAcre', '42 plants/ac'],
    [0, 'perAcre', '0 plants/ac'],
    [222_394.8, 'perHectare', '222,000 plants/ha'],
    [18.5266, 'perSquareMetre', '18.5 plants/m²'],
    [1.7218, 'perSquareFoot', '1.72 plants/ft²'],
    [Number.NaN, 'perAcre', 'unknown plants/ac'],
  ] as const)('%s %s: %s', (value, unit, text) => {
    expect(formatPopulation(value, unit)).toBe(text);
  });

  it('can speak of seeds', () => {
    expect(formatPopulation(100_000, 'perAcre', 'seeds')).toBe('100,000 seeds/ac');
  });
});

describe('formatLength', () => {
  it.each([
    [0, '0 in', '0 mm'],
    [0.008, '0.3 in', '8 mm'],
    [0.0762, '3 in', '7.6 cm'],
    [0.3048, '1 ft', '30 cm'],
    [0.66, '26 in', '66 cm'],
    [0.762, '30 in', '76 cm'],
    [0.9144, '3 ft', '91 cm'],
    [5.311, '17 ft 5 in', '5.31 m'],
    [3.048, '10 ft', '3.05 m'],
    [-0.0762, '-3 in', '-7.6 cm'],
    [Number.NaN, 'unknown', 'unknown'],
  ])('%s m: %s, %s', (metres, imperial, metric) => {
    expect(formatLength(metres, 'imperial')).toBe(imperial);
    expect(formatLength(metres, 'metric')).toBe(metric);
  });

  it.each([
    [30, '17 ft 5 in'],
    [22, '23 ft 9 in'],
    [20, '26 ft 2 in'],
    [15, '34 ft 10 in'],
    [36, '14 ft 6 in'],
  ])('a thousandth of an acre of %s in rows reads %s (SDSU replanting guide)', (rowIn, text) => {
    expect(formatLength(thousandthAcreRowM(rowIn * 0.0254), 'imperial')).toBe(text);
  });

  it('row widths stay in inches or centimetres', () => {
    expect(formatRowWidth(0.9144, 'imperial')).toBe('36 in');
    expect(formatRowWidth(0.1905, 'imperial')).toBe('7.5 in');
    expect(formatRowWidth(0.762, 'metric')).toBe('76.2 cm');
  });

  it('what it writes parses back, to the rounding it shows', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 95, noNaN: true }),
        fc.constantFrom('imperial', 'metric'),
        (metres, system) => {
          const read = parseLength(formatLength(metres, system));
          expect(read.ok).toBe(true);
          // half an inch is the coarsest step shown below 100 m
          if (read.ok) expect(Math.abs(read.value - metres)).toBeLessThanOrEqual(0.0127 + 1e-9);
        },
      ),
    );
  });
});
