import { describe, expect, it } from 'vitest';
import { fieldStand } from '../../../src/core/sampling/fieldStand.ts';
import { plantsCounted } from '../../../src/core/stand/standCount.ts';
import { assessPrecision, fieldMoments } from '../../../src/core/visit/assessPrecision.ts';
import { assessVisit } from '../../../src/core/visit/assessVisit.ts';
import { DEMO_VISITS } from '../../../src/core/visit/demo/demoVisits.ts';
import { readVisit } from '../../../src/core/visit/readVisit.ts';
import { spotCounts } from '../../../src/core/visit/spotCounts.ts';
import type { VisitDocument } from '../../../src/core/visit/visitSchema.ts';

/** Rows 1 m apart and 1 m long, so that a count is a density. */
function visitOf(plants: readonly (readonly number[])[], area = '1 ha'): VisitDocument {
  const read = readVisit({
    schema: 'rowledger/visit@2',
    id: 'v',
    visitedOn: '2026-06-18',
    units: 'metric',
    people: [],
    farm: { id: 'f', name: 'Hollow Elm Farm' },
    field: { id: 'x', name: 'Ridge Forty', area },
    season: 2026,
    planting: { id: 'p', plantedOn: '2026-05-28', marketClass: 'pinto', rowWidth: '1 m' },
    spots: plants.map((rows, i) => ({
      id: `s${i}`,
      counts: [{ id: `c${i}`, kind: 'rows', length: '1 m', plants: [...rows] }],
    })),
  });
  if (!read.ok) throw new Error(read.found);
  return read.value;
}

describe('how good the mean is', () => {
  it('half the interval over the mean is what is printed, and the spots by t are those of the entomology formula', () => {
    const { precision, stand } = assessVisit(visitOf([[12], [18], [15], [9], [21]]));
    // Mean 15, sd 4.743, t(0.95, 4) = 2.1318 (t table): half width 4.522.
    expect(precision?.halfWidthShare).toBeCloseTo(4.522 / 15, 3);
    expect(precision?.halfWidthShare).toBeCloseTo((stand!.high! - stand!.low!) / 2 / stand!.perM2, 9);
    // N = (t s / (d m))^2 iterated: t(0.95, 28) = 1.7011 gives 28.9, t(0.95, 27) = 1.7033 gives 29.01.
    expect(precision?.spots).toBe(29);
  });

  it('a small field takes fewer spots, a large one no fewer', () => {
    const counts = [[12], [18], [15], [9], [21]];
    const small = assessVisit(visitOf(counts, '30 m2')).precision?.finite;
    const large = assessVisit(visitOf(counts, '80 ha')).precision?.finite;
    expect(small?.spotsInField).toBe(30);
    expect(small!.spots!).toBeLessThan(20);
    expect(small?.narrowing).toBeCloseTo(Math.sqrt(1 - 5 / 30), 9);
    expect(large?.spots).toBe(29);
  });

  it("fields counted before give Taylor's law, those with spots of other size left out", () => {
    const now = spotCounts(visitOf([[12], [18], [15], [9], [21]]));
    const spots = now.map(({ spot, usable }) => ({ id: spot.id, plants: plantsCounted(usable[0]!), areaM2: 1 }));
    const stand = fieldStand(spots, 0.9);
    if (!stand.ok) throw new Error(stand.found);
    // Poisson fields: variance = mean, so a = 1, b = 1 and N = (z / d)^2 / mean; z(0.95) = 1.6449: 270.6 / 15 = 18.04.
    const before = [5, 10, 20, 40].map((mean) => ({ mean, variance: mean, groundM2: 1.2 }));
    const strange = { mean: 10, variance: 400, groundM2: 5 };
    const found = assessPrecision(stand.value, fieldMoments(now), null, [...before, strange]);
    expect(found?.taylor).toMatchObject({ fields: 4, spots: 19 });
    expect(found?.taylor?.a).toBeCloseTo(1, 9);
    expect(found?.taylor?.b).toBeCloseTo(1, 9);
    expect(assessPrecision(stand.value, fieldMoments(now), null, before.slice(0, 2))?.taylor).toBeNull();
  });

  it('one spot, no spot and no plant give no number', () => {
    for (const counts of [[], [[4]], [[0], [0], [0]]]) expect(assessVisit(visitOf(counts)).precision).toBeNull();
  });

  it('zones take the spread between them out', () => {
    const knolls = DEMO_VISITS.find((visit) => visit.field.name === 'Knoll Quarter')!;
    const zoned = assessVisit(knolls).precision!;
    const { zones: _zones, damage: _damage, ...rest } = knolls;
    const spots = knolls.spots.map(({ zoneId: _zone, ...spot }) => spot);
    const whole = assessVisit({ ...rest, spots }).precision!;
    expect(zoned.cv).toBeLessThan(whole.cv / 3);
    expect(zoned.spots!).toBeLessThan(whole.spots!);
  });
});

describe('the pattern along the rows', () => {
  // Fisher 1925, section 19: chi-square is the sum of squares over the mean, on n - 1 degrees of freedom.
  it('of equal rows is their index of dispersion with its test', () => {
    const { pattern, explained } = assessVisit(
      visitOf([
        [4, 6],
        [5, 5],
        [3, 7],
        [6, 4],
      ]),
    );
    expect(pattern).toMatchObject({ n: 8, pieceM: 1, degreesOfFreedom: 7, pattern: 'random' });
    expect(pattern?.chiSquare).toBeCloseTo(12 / 5, 9);
    expect(pattern?.index).toBeCloseTo(12 / 5 / 7, 9);
    const line = explained.find((one) => one.topic === 'Sampling' && one.says.startsWith('index of dispersion'));
    expect(line?.source).toMatchObject({ in: ['fisher1925'] });
  });

  it('is called clumped where rows differ more than by chance, and not judged below five rows', () => {
    expect(
      assessVisit(
        visitOf([
          [20, 2],
          [1, 25],
          [3, 30],
        ]),
      ).pattern?.pattern,
    ).toBe('clumped');
    expect(
      assessVisit(
        visitOf([
          [20, 2],
          [1, 25],
        ]),
      ).pattern,
    ).toBeNull();
  });
});

it('--explain names the formula and the source of each number of spots', () => {
  const visit = DEMO_VISITS.find((one) => one.field.name === 'Church Corner')!;
  const before = DEMO_VISITS.filter((one) => one !== visit).flatMap((one) => fieldMoments(spotCounts(one)) ?? []);
  const says = assessVisit(visit, { before })
    .explained.filter((one) => one.topic === 'Sampling')
    .map((one) => one.says);
  expect(says.join('\n')).toMatch(/Student's t/);
  expect(says.join('\n')).toMatch(/spots that the field holds/);
  expect(says.join('\n')).toMatch(/index of dispersion/);
});
