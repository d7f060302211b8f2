import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assessVisit } from '../../../src/core/visit/assessVisit.ts';
import { windmillEighty } from '../../../src/core/visit/demo/windmillEighty.ts';
import type { VisitDocument } from '../../../src/core/visit/visitSchema.ts';
import { checked, withPlants } from './visitSupport.ts';

/** One field in numbers, written in either system. */
interface Field {
  readonly rowWidthM: number;
  readonly lengthM: number;
  readonly plants: readonly (readonly number[])[];
  readonly areaM2: number;
  readonly seedPerM2: number;
  readonly soilC: readonly (readonly [number, number])[];
  readonly fullKgPerM2: number;
  readonly pricePerKg: number;
  readonly seedCostPerM2: number;
}

const ACRE_M2 = 4046.8564224;

function written(field: Field, units: 'imperial' | 'metric'): VisitDocument {
  const imperial = units === 'imperial';
  const density = (perM2: number) => (imperial ? `${perM2 * ACRE_M2} plants/ac` : `${perM2 * 10_000} plants/ha`);
  const length = (m: number) => (imperial ? `${m / 0.0254} in` : `${m * 100} cm`);
  const money = (perM2: number) => (imperial ? `${perM2 * ACRE_M2}/ac` : `${perM2 * 10_000}/ha`);
  const degree = (c: number) => (imperial ? `${c * 1.8 + 32} F` : `${c} C`);
  return checked({
    ...windmillEighty,
    units,
    field: {
      id: 'f',
      name: 'Both Ways',
      area: imperial ? `${field.areaM2 / ACRE_M2} ac` : `${field.areaM2 / 10_000} ha`,
    },
    planting: {
      id: 'p',
      plantedOn: '2026-05-27',
      marketClass: 'pinto',
      growthHabit: 'III',
      rowWidth: length(field.rowWidthM),
      seedDrop: density(field.seedPerM2),
      target: density(18),
    },
    spots: field.plants.map((plants, i) => ({
      id: `s${i}`,
      counts: [{ id: `c${i}`, kind: 'rows', length: length(field.lengthM), plants: [...plants] }],
    })),
    weather: {
      days: field.soilC.map(([low, high], i) => ({
        on: `2026-06-${String(i + 1).padStart(2, '0')}`,
        minimum: degree(low),
        maximum: degree(high),
        medium: 'soil',
      })),
    },
    economics: {
      currency: '$',
      fullYield: imperial
        ? `${(field.fullKgPerM2 * ACRE_M2) / 0.45359237} lb/ac`
        : `${field.fullKgPerM2 * 10_000} kg/ha`,
      price: imperial ? `${field.pricePerKg * 0.45359237}/lb` : `${field.pricePerKg}/kg`,
      seed: money(field.seedCostPerM2),
      planting: money(0.005),
    },
  });
}

const fieldArbitrary: fc.Arbitrary<Field> = fc.record({
  rowWidthM: fc.constantFrom(0.381, 0.508, 0.762),
  lengthM: fc.constantFrom(3.048, 5.3, 8),
  plants: fc.array(fc.array(fc.integer({ min: 0, max: 90 }), { minLength: 1, maxLength: 2 }), {
    minLength: 2,
    maxLength: 8,
  }),
  areaM2: fc.integer({ min: 20_000, max: 600_000 }),
  seedPerM2: fc.integer({ min: 15, max: 40 }),
  soilC: fc.array(fc.tuple(fc.integer({ min: 5, max: 14 }), fc.integer({ min: 15, max: 27 })), {
    minLength: 1,
    maxLength: 15,
  }),
  fullKgPerM2: fc.constantFrom(0.2, 0.27),
  pricePerKg: fc.constantFrom(0.6, 0.9),
  seedCostPerM2: fc.constantFrom(0.01, 0.03),
});

describe('properties', () => {
  it('metric and imperial give the same verdict and the same numbers', () => {
    fc.assert(
      fc.property(fieldArbitrary, (field) => {
        const [a, b] = [assessVisit(written(field, 'imperial')), assessVisit(written(field, 'metric'))];
        expect(b.decision.verdict).toEqual(a.decision.verdict);
        expect(b.stand!.perM2).toBeCloseTo(a.stand!.perM2, 6);
        expect(b.yieldPotential!.yieldShare.low).toBeCloseTo(a.yieldPotential!.yieldShare.low, 6);
        expect(b.money!.balance.gainPerArea).toBeCloseTo(a.money!.balance.gainPerArea, 6);
      }),
      { numRuns: 60 },
    );
  });

  it('the order of spots never matters', () => {
    const plants = fc.array(fc.integer({ min: 0, max: 110 }), { minLength: 1, maxLength: 9 });
    fc.assert(
      fc.property(plants, (list) => {
        const [a, b] = [assessVisit(withPlants(list)), assessVisit(withPlants([...list].reverse()))];
        expect(b.decision.verdict).toEqual(a.decision.verdict);
        expect(b.stand!.perM2).toBeCloseTo(a.stand!.perM2, 9);
        if (a.stand!.low !== null) expect(b.stand!.low!).toBeCloseTo(a.stand!.low, 9);
      }),
      { numRuns: 60 },
    );
  });

  it('more plants never lower the population', () => {
    const plants = fc.array(fc.integer({ min: 0, max: 110 }), { minLength: 2, maxLength: 6 });
    fc.assert(
      fc.property(plants, fc.nat(5), (list, at) => {
        const more = list.map((n, i) => (i === at % list.length ? n + 1 : n));
        expect(assessVisit(withPlants(more)).stand!.perM2).toBeGreaterThan(assessVisit(withPlants(list)).stand!.perM2);
      }),
      { numRuns: 60 },
    );
  });

  it('adding identical spots narrows the interval', () => {
    const width = (copies: number) => {
      const { low, high } = assessVisit(withPlants(Array.from({ length: copies }, () => [60, 72, 66]).flat())).stand!;
      return high! - low!;
    };
    expect(width(2)).toBeLessThan(width(1));
    expect(width(4)).toBeLessThan(width(2));
  });

  it('a gap never raises the yield potential', () => {
    const list = fc.array(fc.integer({ min: 10, max: 90 }), { maxLength: 5 });
    fc.assert(
      fc.property(list, fc.integer({ min: 10, max: 90 }), (gaps, extra) => {
        const at = (inches: readonly number[]) =>
          assessVisit(
            checked({
              ...windmillEighty,
              spots: windmillEighty.spots.map((spot, i) => ({
                ...spot,
                counts: spot.counts.map((count) => ({
                  ...count,
                  ...(i === 0 ? { gaps: inches.map((n) => `${n} in`) } : {}),
                })),
              })) as VisitDocument['spots'],
            }),
          ).yieldPotential!.yieldShare;
        const [less, more] = [at(gaps), at([...gaps, extra])];
        expect(more.low).toBeLessThanOrEqual(less.low + 1e-12);
        expect(more.high).toBeLessThanOrEqual(less.high + 1e-12);
      }),
      { numRuns: 40 },
    );
  });
});
