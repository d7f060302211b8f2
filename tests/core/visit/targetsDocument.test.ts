import { describe, expect, it } from 'vitest';
import { toPerSquareMetre } from '../../../src/core/units/density.ts';
import { assessVisit } from '../../../src/core/visit/assessVisit.ts';
import { DEMO_VISITS } from '../../../src/core/visit/demo/demoVisits.ts';
import { NO_TARGETS, readTargets, readTargetsText } from '../../../src/core/visit/targetsDocument.ts';

const own = (parts: object = {}) => ({
  ...NO_TARGETS,
  name: 'Alder Flat Farm',
  rows: [
    {
      id: 'own-pinto',
      marketClass: 'pinto',
      rowWidth: { from: '28 in', to: '30 in' },
      of: 'plants',
      low: '60,000 plants/ac',
      high: '70,000 plants/ac',
      ideal: '66,000 plants/ac',
    },
  ],
  ...parts,
});
const pinto = DEMO_VISITS.find((visit) => visit.planting.marketClass === 'pinto')!;
const visit = { ...pinto, planting: { ...pinto.planting, rowWidth: '30 in' } };

describe("an organisation's own targets", () => {
  it('come before the table, are said by their name, and move the floor with them', () => {
    const targets = readTargets(own());
    if (!targets.ok) throw new Error(targets.found);
    const { target, floorPerM2 } = assessVisit(visit, { targets: targets.value });
    expect(target.perM2).toBeCloseTo(toPerSquareMetre(66_000, 'perAcre'), 9);
    expect(target.says).toContain('Alder Flat Farm');
    expect(target.sources).toEqual([{ kind: 'entered' }]);
    expect(floorPerM2).toBeLessThan(target.perM2);
    const kidney = DEMO_VISITS.find((one) => one.planting.marketClass === 'kidney')!;
    expect(assessVisit(kidney, { targets: targets.value }).target).toEqual(assessVisit(kidney).target);
  });

  it('take rows of the table out', () => {
    const without = readTargets({ ...NO_TARGETS, without: ['practice-navy-15'] });
    expect(without.ok && without.value.some((row) => row.id === 'practice-navy-15')).toBe(false);
  });

  it.each([
    [{ schema: 'rowledger/targets@2' }, 'schema'],
    [{ rows: [{ ...own().rows[0], low: '60,000' }] }, 'rows.0.low'],
    [{ rows: [{ ...own().rows[0], low: '80,000 plants/ac' }] }, 'own-pinto'],
    [{ without: ['no-such-row'] }, 'no-such-row'],
    [{ rows: [{ ...own().rows[0], rowWidth: { from: '30 in', to: '15 in' } }] }, 'row widths'],
    [{ extra: 1 }, 'extra'],
  ])('%j is refused by name', (parts, place) => {
    const read = readTargets(own(parts));
    expect(read.ok ? 'accepted' : read.found).toContain(place);
  });

  it('are read from a file', () => {
    expect(readTargetsText(JSON.stringify(own())).ok).toBe(true);
    expect(readTargetsText('{')).toMatchObject({ ok: false, code: 'not json' });
  });
});
