import { describe, expect, it } from 'vitest';
import { formatSource } from '../../../src/core/sources/source.ts';
import { assessVisit } from '../../../src/core/visit/assessVisit.ts';
import { DEMO_VISITS } from '../../../src/core/visit/demo/demoVisits.ts';
import { knollQuarter } from '../../../src/core/visit/demo/knollQuarter.ts';
import { riverEighty } from '../../../src/core/visit/demo/riverEighty.ts';
import { windmillEighty } from '../../../src/core/visit/demo/windmillEighty.ts';
import type { VisitDocument } from '../../../src/core/visit/visitSchema.ts';
import { checked, withPlants } from './visitSupport.ts';

const ACRE_M2 = 4046.8564224;

describe('the demonstration fields', () => {
  const verdicts = Object.fromEntries(
    DEMO_VISITS.map((visit) => [visit.field.name, assessVisit(visit).decision.verdict]),
  );

  it('cover every verdict', () => {
    expect(verdicts).toMatchObject({
      'Windmill Eighty': { kind: 'keep' },
      'Lower Bench': { kind: 'wait' },
      'School Section': { kind: 'too few spots' },
      'River Eighty': { kind: 'cost replant', scope: 'whole field' },
      'Knoll Quarter': { kind: 'cost replant', scope: 'zones', zones: ['Sandy knolls'] },
      'Church Corner': { kind: 'wait', recountBy: '2026-06-23' },
      'Upper Terrace': { kind: 'keep' },
    });
  });

  it.each(DEMO_VISITS.map((visit) => [visit.field.name, visit] as const))(
    '%s: every line explained, no number broken',
    (_n, visit) => {
      const made = assessVisit(visit);
      expect(made.explained.length).toBeGreaterThan(10);
      for (const entry of made.explained) expect(formatSource(entry.source).length).toBeGreaterThan(3);
      const covered = new Set(made.explained.map((entry) => entry.says));
      for (const reason of made.decision.reasons) expect(covered).toContain(reason.says);
      for (const caution of made.cautions) expect(covered).toContain(caution.says);
      expect(
        JSON.stringify(made, (_key, value: unknown) =>
          typeof value === 'number' && !Number.isFinite(value) ? 'broken' : value,
        ),
      ).not.toContain('"broken"');
      expect(assessVisit(visit)).toEqual(made);
    },
  );
});

describe('degenerate visits', () => {
  it('no plant anywhere is a stand of nothing, not an error', () => {
    const made = assessVisit(withPlants([0, 0, 0, 0, 0, 0], { visitedOn: '2026-06-22', weather: undefined }));
    expect(made.stand!.perM2).toBe(0);
    expect(['cost replant', 'wait', 'too few spots']).toContain(made.decision.verdict.kind);
  });

  it('one spot and no spot are too few to say', () => {
    for (const list of [[], [70]]) {
      const made = assessVisit(withPlants(list));
      expect(made.decision.verdict.kind).toBe('too few spots');
      expect(made.decision.reasons.length).toBeGreaterThan(0);
    }
    expect(assessVisit(withPlants([])).stand).toBeNull();
    expect(assessVisit(withPlants([70])).stand!.low).toBeNull();
  });

  it('all spots equal is an answer', () => {
    expect(assessVisit(withPlants([70, 70, 70, 70])).decision.verdict.kind).toBe('keep');
  });

  it('no row width says so and takes hoops all the same', () => {
    const { rowWidth: _, ...planting } = windmillEighty.planting;
    const bare = assessVisit(withPlants([70, 71, 72], { planting }));
    expect(bare.stand).toBeNull();
    expect(bare.warnings.join()).toContain('row width');
    expect(bare.spots[0]!.why).toContain('row width');
    const hoops = withPlants([1], {
      planting,
      spots: [7, 8, 7].map((n, i) => ({
        id: `h${i}`,
        counts: [{ id: `c${i}`, kind: 'hoop', insideDiameter: '30 in', plants: n }],
      })),
    });
    expect(assessVisit(hoops).stand).not.toBeNull();
  });

  it('a stretch of nothing is left out by name', () => {
    const spots: VisitDocument['spots'] = [
      { id: 's', counts: [{ id: 'c', kind: 'rows', length: '0 ft', plants: [5] }] },
      ...windmillEighty.spots,
    ];
    const made = assessVisit(checked({ ...windmillEighty, spots }));
    expect(made.spots[0]).toMatchObject({ id: 's', perM2: null });
    expect(made.spots[0]!.why).toContain('length of 0');
    expect(made.stand!.spots).toBe(windmillEighty.spots.length);
  });

  it('ten thousand spots are an answer', () => {
    const many = withPlants(Array.from({ length: 10_000 }, (_, i) => 60 + (i % 21)));
    const made = assessVisit(many);
    expect(made.stand!.spots).toBe(10_000);
    expect(made.decision.verdict.kind).toBe('keep');
  });

  it('does not touch what it is given', () => {
    const before = JSON.stringify(knollQuarter);
    assessVisit(knollQuarter);
    expect(JSON.stringify(knollQuarter)).toBe(before);
  });
});

describe('the target', () => {
  const { rowWidth: _, ...noWidth } = windmillEighty.planting;
  const at = (planting: Partial<VisitDocument['planting']>) =>
    assessVisit(checked({ ...windmillEighty, planting: { ...windmillEighty.planting, ...planting } }));

  it('is the one entered, else the table of the class, else the general one with a warning', () => {
    const entered = at({ target: '82,000 plants/ac' }).target;
    expect(entered.perM2 * ACRE_M2).toBeCloseTo(82_000, 6);
    expect(entered.sources).toEqual([{ kind: 'entered' }]);
    expect(at({}).target.says).toContain('common practice by class');
    // The table's ideal lies above its own range: both are said as what they are.
    const pinto = at({ marketClass: 'pinto', rowWidth: '30 in' }).target;
    expect(pinto.perM2 * ACRE_M2).toBeCloseTo(75_000, 6);
    expect(pinto.says).toMatch(/: the ideal, above its range of 65,000 to 70,000 plants\/ac$/);
    expect(at({ marketClass: 'navy', rowWidth: '30 in' }).target.says).toMatch(/, 95,000 to 100,000 plants\/ac$/);
    const strange = at({ marketClass: 'moon' });
    expect(strange.target.perM2).toBeGreaterThan(0);
    expect(at({ targetSet: 'North Dakota 2021' }).target.perM2 * ACRE_M2).toBeCloseTo(70_000, 6);
    const bare = assessVisit(checked({ ...windmillEighty, planting: noWidth }));
    expect(bare.warnings.join()).toContain('the general target is taken');
  });

  it('of an organisation goes before the table', () => {
    const row = {
      id: 'ours',
      set: 'Ours',
      audience: { marketClass: 'pinto' },
      habit: null,
      rowWidthM: null,
      of: 'plants',
      low: 60_000,
      high: 60_000,
      unit: 'perAcre',
      source: { kind: 'entered' },
    } as const;
    expect(assessVisit(windmillEighty, { targets: [row] }).target.perM2 * ACRE_M2).toBeCloseTo(60_000, 6);
  });
});

describe('corrections', () => {
  const at = '2026-06-16T15:00:00Z';
  const base = { at, by: 'tomas', countId: 'spot-1-rows' } as const;

  it('are replayed on top, oldest first whatever their order, and the document keeps both', () => {
    const corrections: VisitDocument['corrections'] = [
      { ...base, id: 'b', at: '2026-06-16T16:00:00Z', change: { kind: 'set row plants', row: 0, plants: 60 } },
      { ...base, id: 'a', change: { kind: 'set row plants', row: 0, plants: 10 } },
    ];
    const made = assessVisit(checked({ ...windmillEighty, corrections }));
    expect(made.spots[0]!.plants).toBe(60 + 74);
    expect(windmillEighty.spots[0]!.counts[0]).toMatchObject({ plants: [71, 74] });
  });

  it('a spot left out is shown with the reason, never dropped silently', () => {
    const corrections: VisitDocument['corrections'] = [
      { ...base, id: 'a', change: { kind: 'leave out' }, why: 'counted the headland' },
    ];
    const made = assessVisit(checked({ ...windmillEighty, corrections }));
    expect(made.spots).toHaveLength(windmillEighty.spots.length);
    expect(made.spots[0]!.why).toContain('counted the headland');
    expect(made.stand!.spots).toBe(windmillEighty.spots.length - 1);
  });
});

describe('what the verdict hangs on', () => {
  it('without costs the same thin stand is still costed, with the lack named', () => {
    const { economics: _, ...poor } = riverEighty;
    const made = assessVisit(checked(poor));
    expect(made.decision.verdict).toMatchObject({ kind: 'cost replant' });
    expect(made.decision.wouldChange.join()).toContain('none were entered');
  });

  it('dear seed turns it to keep', () => {
    const economics = { ...riverEighty.economics!, seed: '900/ac' };
    expect(assessVisit(checked({ ...riverEighty, economics })).decision.verdict.kind).toBe('keep');
  });

  it('after the last day nobody is sent to replant', () => {
    const late = checked({
      ...riverEighty,
      visitedOn: '2026-07-12',
      digChecks: [],
      economics: undefined,
    } as VisitDocument);
    expect(assessVisit(late).decision.verdict.kind).toBe('keep');
  });

  it('a hurt zone is judged by its own plants', () => {
    const made = assessVisit(knollQuarter);
    const knolls = made.zones.find((zone) => zone.name === 'Sandy knolls')!;
    // 31 + 4 sure and half of 6 doubtful of 60 plants.
    expect(knolls.viable!.perM2 / knolls.stand!.perM2).toBeCloseTo(38 / 60, 10);
    expect(made.viable!.perM2).toBeLessThan(made.stand!.perM2);
  });

  it('a re-entry interval that still runs leads the cautions', () => {
    const sprayings = [{ id: 's', at: '2026-06-16T10:00:00Z', product: 'post-emergence', reentryHours: 48 }];
    const made = assessVisit(checked({ ...windmillEighty, sprayings }), { now: '2026-06-17T10:00:00Z' });
    expect(made.cautions[0]!.says).toContain('24 h');
  });
});

describe('plants and pests met while walking', () => {
  it('plants judged by their signs join those tallied by hand', () => {
    const seen = [
      { id: 'a', number: 6, cut: 'below cotyledons' },
      { id: 'b', number: 4, cut: 'above cotyledons', cotyledons: 2 },
    ] as const;
    const damage: VisitDocument['damage'] = [
      {
        id: 'd',
        hazard: 'hail',
        happenedOn: '2026-06-10',
        plants: { growing: 10, budsAlive: 0, doubtful: 0, dead: 0 },
        seen: [...seen],
      },
    ];
    const made = assessVisit(checked({ ...windmillEighty, damage }));
    expect(made.damage[0]!.viable!.value).toBeCloseTo(14 / 20, 12);
  });

  it('thresholds are read against their publications', () => {
    const scouting = { cutworm: { larvae: 4, rowLength: '10 ft' }, hoeLoss: '12 %', salinityDsPerM: 3.6 };
    const made = assessVisit(checked({ ...windmillEighty, scouting }));
    expect(made.scouting.map((entry) => entry.reached)).toEqual([true, true, true]);
    expect(made.scouting.map((entry) => entry.says).join()).toMatch(/at threshold.*stop and set.*severe/);
  });
});
