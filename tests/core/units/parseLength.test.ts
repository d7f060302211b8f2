import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { METRES_PER_INCH } from '../../../src/core/units/conversions.ts';
import { parseLength } from '../../../src/core/units/parseLength.ts';

function metres(text: string): number {
  const read = parseLength(text);
  if (!read.ok) throw new Error(`refused ${text}: ${read.found}`);
  return read.value;
}

describe('parseLength', () => {
  it.each([
    ['30 in', 0.762],
    ['30in', 0.762],
    [`2'6"`, 0.762],
    ['2′6″', 0.762],
    [`2'6''`, 0.762],
    ['17 ft 5 in', 5.3086],
    [`34' 10"`, 10.6172],
    ['6 ft. 2 in.', 1.8796],
    ['75 cm', 0.75],
    ['600mm', 0.6],
    ['3.05m', 3.05],
    ['3 m 5 cm', 3.05],
    ['3,05 m', 3.05],
    ['10ft', 3.048],
    ['1,000 ft', 304.8],
    ['20 yd', 18.288],
    ['7 1/2 in', 0.1905],
    ['7-1/2 in', 0.1905],
    ['7½ in', 0.1905],
    ['1/2"', 0.0127],
    ['.5 m', 0.5],
    ['30 Inches', 0.762],
    ['1 metre', 1],
    ['0 in', 0],
  ])('%s is %s m', (text, wanted) => {
    expect(metres(text)).toBeCloseTo(wanted, 12);
  });

  it.each([
    ['', 'nothing'],
    ['30', 'without a unit'],
    [`2'6`, `2'6`],
    ['-3 in', 'below 0'],
    ['5 in 3 ft', '5 in 3 ft'],
    ['2 ft 10 cm', '2 ft 10 cm'],
    ['1/0 in', '1/0'],
    ['1 2 in', '1 2 in'],
    ['3.0.5 m', '3.0.5'],
    ['1e3 m', '1e3'],
    ['5 stone', '5 stone'],
    ['in', 'in'],
    ['1,500 m', 'thousands or decimals'],
  ])('refuses %j and says what was found', (text, found) => {
    const read = parseLength(text);
    expect(read.ok).toBe(false);
    if (!read.ok) {
      expect(read.code).toBe('length');
      expect(read.found).toContain(found);
      expect(read.wanted).toContain('30 in');
    }
  });

  it('reads back what any unit writes', () => {
    const per: Readonly<Record<string, number>> = { in: METRES_PER_INCH, ft: 0.3048, mm: 0.001, cm: 0.01, m: 1 };
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 99_999 }), fc.constantFrom('in', 'ft', 'mm', 'cm', 'm'), (n, unit) => {
        const value = n / 100;
        expect(metres(`${value} ${unit}`) / (value * per[unit]!)).toBeCloseTo(1, 12);
        expect(metres(`${value}${unit}`)).toBe(metres(`${value} ${unit}`));
      }),
    );
  });
});
