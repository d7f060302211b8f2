import { describe, expect, it } from 'vitest';
import { seedNeeded } from '../../../src/core/targets/seedNeeded.ts';
import { KILOGRAMS_PER_POUND, SQUARE_METRES_PER_ACRE } from '../../../src/core/units/conversions.ts';
import { fromPerSquareMetre, toPerSquareMetre } from '../../../src/core/units/density.ts';

describe('seed for a new stand', () => {
  it('90,000 navy plants an acre take 99,000 to 103,500 seeds (overseeding by 10 to 15 %, Northarvest 2007)', () => {
    const { perM2, kgPerM2 } = seedNeeded(toPerSquareMetre(90_000, 'perAcre'), 'navy');
    expect(fromPerSquareMetre(perM2.low, 'perAcre')).toBeCloseTo(99_000, 3);
    expect(fromPerSquareMetre(perM2.high, 'perAcre')).toBeCloseTo(103_500, 3);
    // 2,400 to 3,000 seeds a pound (NDSU A1133): 99,000 / 3,000 and 103,500 / 2,400.
    const pounds = (kg: number) => (kg * SQUARE_METRES_PER_ACRE) / KILOGRAMS_PER_POUND;
    expect(pounds(kgPerM2!.low)).toBeCloseTo(33, 6);
    expect(pounds(kgPerM2!.high)).toBeCloseTo(43.125, 6);
  });

  it('of a class that no table weighs is a number alone', () => {
    expect(seedNeeded(20, 'tepary').kgPerM2).toBeNull();
    expect(seedNeeded(20, 'tepary').sources).toHaveLength(1);
  });
});
