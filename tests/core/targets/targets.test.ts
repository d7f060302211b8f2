import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatSource } from '../../../src/core/sources/source.ts';
import { establishment, PLANTS_PER_SEED } from '../../../src/core/targets/establishment.ts';
import { findTarget, type TargetQuestion } from '../../../src/core/targets/findTarget.ts';
import { MARKET_CLASSES, marketClassOf, seedGroupOf } from '../../../src/core/targets/marketClass.ts';
import { overlayTargets } from '../../../src/core/targets/overlayTargets.ts';
import { SEED_COUNTS } from '../../../src/core/targets/seedCounts.ts';
import { TARGET_ROWS } from '../../../src/core/targets/targetRows.ts';
import { fromPerSquareMetre } from '../../../src/core/units/density.ts';
import { parseLength } from '../../../src/core/units/parseLength.ts';

function ask(marketClass: string, width: string | null, more: Partial<TargetQuestion> = {}, rows = TARGET_ROWS) {
  const read = width === null ? null : parseLength(width);
  if (read !== null && !read.ok) throw new Error(read.found);
  return findTarget(
    { marketClass, habit: null, rowWidthM: read === null ? null : read.value, set: null, ...more },
    rows,
  );
}

function acres(marketClass: string, width: string | null, more: Partial<TargetQuestion> = {}, rows = TARGET_ROWS) {
  const found = ask(marketClass, width, more, rows);
  if (!found.ok) throw new Error(`${found.code}: ${found.found}`);
  const thousand = (perM2: number) => Math.round(fromPerSquareMetre(perM2, 'perAcre') / 100) / 10;
  return { ...found.value, thousands: [found.value.low, found.value.high, found.value.perSquareMetre].map(thousand) };
}

describe('the table', () => {
  it('every row says who says so, has one name, and is in order', () => {
    expect(new Set(TARGET_ROWS.map((row) => row.id)).size).toBe(TARGET_ROWS.length);
    for (const row of TARGET_ROWS) {
      expect(formatSource(row.source).length).toBeGreaterThan(10);
      expect(row.low).toBeGreaterThan(0);
      expect(row.high).toBeGreaterThanOrEqual(row.low);
      expect(row.source.kind, row.id).not.toBe('entered');
    }
  });

  it('common practice, no source: by class and row width, in plants', () => {
    expect(acres('navy', '15 in').thousands).toEqual([135, 140, 137.5]);
    expect(acres('black', '30 in').thousands).toEqual([95, 100, 97.5]);
    expect(acres('pinto', '20 in').thousands).toEqual([75, 85, 80]);
    expect(acres('great northern', '30 in').thousands).toEqual([65, 70, 75]);
    expect(formatSource(acres('navy', '15 in').sources[0]!)).toBe('common practice, no source');
  });

  it('common practice, no source: by seed size, seeds turned into plants and said so', () => {
    const kidney = acres('kidney', '30 in');
    expect(kidney.set).toBe('common practice by seed size');
    expect(kidney.thousands.slice(0, 2)).toEqual([60.9, 68.2]);
    expect(kidney.reasons.join()).toContain('seeds planted');
    const set = { set: 'common practice by seed size' };
    expect(acres('navy', '30 in', set).thousands.slice(0, 2)).toEqual([73.9, 86.4]);
    expect(acres('cranberry', '15 in', set).thousands.slice(0, 2)).toEqual([87, 100]);
  });

  it('NDSU Crop & Pest Report, 20 May 2021: black 90,000 to 120,000; navy above 115,000 up to 22 in, 90,000 wide; pinto above 80,000 on 18 to 22 in, 70,000 wide', () => {
    const set = { set: 'North Dakota 2021' };
    expect(acres('black', null, set).thousands.slice(0, 2)).toEqual([90, 120]);
    expect(acres('navy', '7.5 in', set).thousands[0]).toBe(115);
    expect(acres('navy', '30 in', set).thousands[0]).toBe(90);
    expect(acres('pinto', '22 in', set).thousands[0]).toBe(80);
    expect(acres('pinto', '28 in', set).thousands[0]).toBe(70);
  });

  it('Manitoba Pulse & Soybean Growers: 80,000 to 120,000 on 7.5 in, 90,000 to 120,000 else; Saskatchewan Pulse Growers: navy and black 140,000 to 150,000 on 9 to 12 in', () => {
    expect(acres('pinto', '7.5 in', { set: 'Manitoba' }).thousands.slice(0, 2)).toEqual([80, 120]);
    expect(acres('pinto', '30 in', { set: 'Manitoba' }).thousands.slice(0, 2)).toEqual([90, 120]);
    expect(acres('black', '12 in', { set: 'Saskatchewan narrow rows' }).thousands.slice(0, 2)).toEqual([140, 150]);
  });

  it('AAFC-CSIDC: 25 to 30 plants/m2, that is 101,200 to 121,400/ac', () => {
    expect(acres('pinto', '24 in', { set: 'Saskatchewan irrigated' }).thousands.slice(0, 2)).toEqual([101.2, 121.4]);
  });

  it('Nebraska crop profile (2001): irrigated 60,000 to 90,000, dryland 18,000 to 30,000; Idaho BUL 978: 70,000 to 95,000 seeds', () => {
    expect(acres('pinto', null, { set: 'Nebraska irrigated' }).thousands.slice(0, 2)).toEqual([60, 90]);
    expect(acres('pinto', null, { set: 'Nebraska dryland' }).thousands.slice(0, 2)).toEqual([18, 30]);
    expect(TARGET_ROWS.find((row) => row.id === 'idaho')).toMatchObject({ low: 70_000, high: 95_000, of: 'seeds' });
  });

  it('Northarvest 2007: bush navy gains nothing above 90,000; not said of other habits', () => {
    const set = 'Northarvest 2007';
    expect(acres('navy', '30 in', { set, habit: 'I' }).thousands[0]).toBe(90);
    expect(ask('navy', '30 in', { set, habit: 'II' })).toMatchObject({ ok: false, code: 'no target' });
  });

  it('from memory, soft: kidney about 70,000 to 90,000 on 28 to 30 in', () => {
    const found = acres('kidney', '30 in', { set: 'large-seeded from memory' });
    expect(found.thousands[0]).toBeGreaterThan(50);
    expect(found.thousands[1]).toBeLessThan(110);
    expect(formatSource(found.sources[0]!)).toContain('from memory');
  });
});

describe('row widths', () => {
  it('between two widths of the table: a straight line, and says so', () => {
    const found = acres('navy', '22.5 in');
    expect(found.thousands.slice(0, 2)).toEqual([115, 120]);
    expect(found).toMatchObject({ how: 'between row widths', rowIds: ['practice-navy-15', 'practice-navy-30'] });
    expect(found.reasons[0]).toBe('22.5 in rows are not in the table: interpolated between 15 in and 30 in');
  });

  it('outside the table: the nearest, never beyond it, and says so', () => {
    const narrow = acres('navy', '7.5 in');
    expect(narrow).toMatchObject({ how: 'nearest row width', thousands: [135, 140, 137.5] });
    expect(narrow.reasons[0]).toContain('outside the table');
    expect(acres('pinto', '36 in').thousands).toEqual([65, 70, 75]);
  });

  it('metric and imperial widths give the same target', () => {
    expect(acres('pinto', '76.2 cm')).toEqual(acres('pinto', '30 in'));
    expect(acres('pinto', '508 mm')).toEqual(acres('pinto', `1'8"`));
  });

  it('a wider row never gets a denser target, and reading is without jumps', () => {
    const at = (m: number) => {
      const found = findTarget({ marketClass: 'navy', habit: null, rowWidthM: m, set: null });
      if (!found.ok) throw new Error(found.code);
      return found.value.perSquareMetre;
    };
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 1.2, noNaN: true }), (m) => {
        expect(at(m + 0.01)).toBeLessThanOrEqual(at(m) + 1e-9);
        // 40,000 plants/ac over 15 in is 0.26 plants/m2 to the centimetre
        expect(at(m) - at(m + 0.01)).toBeLessThan(0.27);
      }),
    );
  });

  it('asks for the row width where the table depends on it', () => {
    expect(ask('navy', null)).toMatchObject({ ok: false, code: 'row width', found: 'no row width' });
    expect(ask('navy', '0 in')).toMatchObject({ ok: false, code: 'row width' });
  });
});

describe('classes', () => {
  it.each([
    ['Navy beans', 'navy'],
    [' light red  KIDNEY bean', 'kidney'],
    ['Great Northern', 'great northern'],
    ['small red', 'small red'],
    ['adzuki', null],
    ['', null],
  ])('%j is %s', (words, wanted) => {
    expect(marketClassOf(words)).toBe(wanted);
  });

  it('every class of the list has a target on 15 to 30 in rows, a seed size and a seed count', () => {
    for (const name of MARKET_CLASSES) {
      for (const width of ['15 in', '20 in', '30 in']) expect(ask(name, width).ok, `${name} ${width}`).toBe(true);
      const { lowPerPound, highPerPound } = SEED_COUNTS[name];
      expect(seedGroupOf(name) === 'small-seeded').toBe(lowPerPound > 2000);
      expect(highPerPound).toBeGreaterThan(lowPerPound);
    }
  });

  it('seeds per pound: kidney 800 to 1,000, pinto 1,200 to 1,400, navy 2,400 to 3,000 (NDSU A1133 Table 6)', () => {
    expect(SEED_COUNTS.kidney).toMatchObject({ lowPerPound: 800, highPerPound: 1000 });
    expect(SEED_COUNTS.pinto).toMatchObject({ lowPerPound: 1200, highPerPound: 1400 });
    expect(SEED_COUNTS.navy).toMatchObject({ lowPerPound: 2400, highPerPound: 3000 });
  });

  it('an unknown class gets no guess', () => {
    const found = ask('adzuki', '30 in', { set: 'common practice by class' });
    expect(found).toMatchObject({ ok: false, code: 'no target' });
    if (!found.ok) expect(found.found).toContain('"adzuki"');
  });
});

describe("an organisation's own rows", () => {
  const own = {
    id: 'adzuki-30',
    set: 'our co-op',
    audience: { marketClass: 'Adzuki' },
    habit: null,
    rowWidthM: null,
    of: 'plants',
    low: 110_000,
    high: 120_000,
    unit: 'perAcre',
  } as const;

  it('are asked first, carry "entered" as their source, and leave the table as it is', () => {
    const before = TARGET_ROWS.length;
    const laid = overlayTargets(Object.freeze([...TARGET_ROWS]), [
      { kind: 'put', row: own },
      { kind: 'put', row: { ...own, id: 'navy', audience: { marketClass: 'navy' } } },
    ]);
    if (!laid.ok) throw new Error(laid.code);
    expect(TARGET_ROWS).toHaveLength(before);
    expect(acres('adzuki beans', '30 in', {}, laid.value).thousands).toEqual([110, 120, 115]);
    const navy = acres('navy', '15 in', {}, laid.value);
    expect(navy.set).toBe('our co-op');
    expect(formatSource(navy.sources[0]!)).toBe('entered in this visit');
  });

  it('replace a row by its id, or take it out', () => {
    const laid = overlayTargets(TARGET_ROWS, [
      { kind: 'remove', id: 'practice-navy-30' },
      {
        kind: 'put',
        row: { ...own, id: 'practice-navy-15', set: 'common practice by class', audience: { marketClass: 'navy' } },
      },
    ]);
    if (!laid.ok) throw new Error(laid.code);
    expect(laid.value).toHaveLength(TARGET_ROWS.length - 1);
    expect(acres('navy', '30 in', {}, laid.value).thousands).toEqual([110, 120, 115]);
  });

  it('are refused where they make no sense', () => {
    expect(overlayTargets(TARGET_ROWS, [{ kind: 'remove', id: 'nowhere' }])).toMatchObject({ code: 'no such row' });
    expect(overlayTargets([], [{ kind: 'put', row: { ...own, low: 0 } }])).toMatchObject({ code: 'bad row' });
    expect(overlayTargets([], [{ kind: 'put', row: { ...own, high: 5 } }])).toMatchObject({ code: 'bad row' });
    expect(overlayTargets([], [{ kind: 'put', row: { ...own, id: ' ' } }])).toMatchObject({ code: 'bad row' });
    const backwards = { ...own, rowWidthM: { from: 0.8, to: 0.5 } };
    expect(overlayTargets([], [{ kind: 'put', row: backwards }])).toMatchObject({ code: 'bad row' });
  });
});

describe('establishment', () => {
  const percent = (plants: number, seeds: number) => {
    const found = establishment(plants, seeds);
    if (!found.ok) throw new Error(found.code);
    return Math.round(found.value.share * 1000) / 10;
  };

  it('MSU Extension 2019 black beans: 95.8, 97.6, 96.8, 96.0, 95.4 %', () => {
    const stands = [90_970, 102_512, 111_327, 119_945, 128_833];
    expect(stands.map((stand, i) => percent(stand, 95_000 + 10_000 * i))).toEqual([95.8, 97.6, 96.8, 96, 95.4]);
  });

  it('NDSU navy, 12 May 2022: 92.6, 93.4, 93.2 %', () => {
    expect([percent(92_600, 100_000), percent(116_800, 125_000), percent(139_800, 150_000)]).toEqual([
      92.6, 93.4, 93.2,
    ]);
  });

  it('overseeding by 10 to 15 % (Northarvest 2007) is x 1.10 to x 1.15, not / 0.90: 90,000 plants want 99,000 seeds', () => {
    expect(Math.round(90_000 / PLANTS_PER_SEED.high)).toBe(99_000);
    expect(Math.round(90_000 / PLANTS_PER_SEED.low)).toBe(103_500);
  });

  it('more plants than seeds is said, not cut; a drop of 0 is refused', () => {
    const over = establishment(110, 100);
    expect(over.ok && over.value.share).toBeCloseTo(1.1, 12);
    expect(over.ok && over.value.reasons).toHaveLength(1);
    expect(establishment(10, 0)).toMatchObject({ ok: false, code: 'establishment' });
    expect(establishment(-1, 10)).toMatchObject({ ok: false, code: 'establishment' });
  });
});
