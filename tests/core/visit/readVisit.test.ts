import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEMO_VISITS } from '../../../src/core/visit/demo/demoVisits.ts';
import { windmillEighty } from '../../../src/core/visit/demo/windmillEighty.ts';
import { migrateVisit } from '../../../src/core/visit/migrations.ts';
import { parseQuantity } from '../../../src/core/visit/quantity.ts';
import { readVisit, readVisitText } from '../../../src/core/visit/readVisit.ts';
import { VISIT_SCHEMA } from '../../../src/core/visit/visitSchema.ts';

const VERSION_1 = readFileSync(new URL('./visit-version-1.json', import.meta.url), 'utf8');

function refusal(raw: unknown): string {
  const read = readVisit(raw);
  return read.ok ? 'accepted' : read.found;
}

describe('readVisit', () => {
  it.each(DEMO_VISITS.map((visit) => [visit.field.name, visit] as const))(
    'accepts %s and gives it back as it was',
    (_n, visit) => {
      const read = readVisit(JSON.parse(JSON.stringify(visit)));
      expect(read).toEqual({ ok: true, value: visit });
    },
  );

  it('opens a file of version 1 and leaves what it was given alone', () => {
    const raw = JSON.parse(VERSION_1) as unknown;
    const before = JSON.stringify(raw);
    const read = readVisit(raw);
    expect(JSON.stringify(raw)).toBe(before);
    expect(read.ok && read.value.schema).toBe(VISIT_SCHEMA);
    expect(read.ok && read.value.impressions).toEqual([
      { id: 'impression-1', at: '2026-06-11T10:00:00Z', by: 'ines', leaning: 'keep', words: 'Good enough.' },
    ]);
    expect(read.ok && read.value.damage![0]!.stage).toEqual({ code: 'V1', convention: 'trifoliolate' });
  });

  it('refuses what is newer, what is nameless and what is no visit, each by name', () => {
    expect(migrateVisit({ schema: 'rowledger/visit@99' })).toMatchObject({ ok: false, code: 'too new' });
    expect(migrateVisit({ schema: 'rowledger/visit@0' })).toMatchObject({ ok: false, code: 'not a visit' });
    for (const raw of [null, 3, 'text', [], {}, { schema: 'rowledger/count@1' }]) {
      expect(readVisit(raw)).toMatchObject({ ok: false, code: 'not a visit' });
    }
    expect(readVisitText('{"schema": ')).toMatchObject({ ok: false, code: 'not json' });
  });

  it('says where, what was found and what was wanted', () => {
    const bare = { ...windmillEighty, planting: { ...windmillEighty.planting, rowWidth: '30' } };
    expect(refusal(bare)).toMatch(/planting\.rowWidth: .*without a unit/);
    expect(refusal({ ...windmillEighty, visitedOn: '2026-02-30' })).toContain('visitedOn: found "2026-02-30"');
    expect(refusal({ ...windmillEighty, spotz: [] })).toContain('does not know "spotz"');
    expect(refusal({ ...windmillEighty, units: 'cubits' })).toContain('wanted "imperial", "metric"');
  });

  it('catches dates the wrong way round and names that point nowhere', () => {
    expect(refusal({ ...windmillEighty, visitedOn: '2026-05-01' })).toContain('swapped');
    const spots = [{ ...windmillEighty.spots[0]!, zoneId: 'nowhere' }];
    expect(refusal({ ...windmillEighty, spots })).toContain('no zone "nowhere"');
    expect(refusal({ ...windmillEighty, spots: [...windmillEighty.spots, windmillEighty.spots[0]] })).toContain(
      'used twice',
    );
    const change = { kind: 'leave out' } as const;
    const corrections = [{ id: 'x', at: '2026-06-16T10:00:00Z', by: 'tomas', countId: 'none', change }];
    expect(refusal({ ...windmillEighty, corrections })).toContain('no count "none"');
    expect(refusal({ ...windmillEighty, signs: { seen: ['green gnomes'], notSeen: [] } })).toContain(
      'no sign "green gnomes"',
    );
  });

  it('never throws, whatever it is given', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (raw) => {
        expect(typeof readVisit(raw).ok).toBe('boolean');
      }),
    );
  });
});

describe('parseQuantity', () => {
  // Definitions: acre 43,560 square feet, hectare 10,000 m2, pound 0.45359237 kg (international agreement of 1959).
  it.each([
    ['75,000 plants/ac', 'density', 75_000 / 4046.8564224],
    ['185 000 plants/ha', 'density', 18.5],
    ['7.33 plants/ft2', 'density', 7.33 / 0.09290304],
    ['80 ac', 'area', 80 * 4046.8564224],
    ['50 F', 'temperature', 10],
    ['-2 °C', 'temperature', -2],
    ['1,000 kg/ha', 'yield', 0.1],
    ['$42.50/ac', 'money per area', 42.5 / 4046.8564224],
    ['90 %', 'share', 0.9],
    ['100/cwt', 'price', 100 / 45.359237],
  ] as const)('%s', (text, dimension, value) => {
    const read = parseQuantity(text, dimension);
    expect(read.ok && read.value).toBeCloseTo(value, 9);
  });

  it('has no default unit and takes nothing below nothing', () => {
    for (const [text, dimension] of [
      ['75000', 'density'],
      ['80', 'area'],
      ['50', 'temperature'],
      ['-5 ac', 'area'],
      ['12 furlongs', 'area'],
      ['', 'yield'],
      ['constructor', 'price'],
      ['3 constructor', 'price'],
    ] as const) {
      expect(parseQuantity(text, dimension)).toMatchObject({ ok: false });
    }
  });
});
