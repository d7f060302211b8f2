import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { explainPage } from '../../../src/core/report/explainPage.ts';
import { verdictHtml } from '../../../src/core/report/verdictHtml.ts';
import { verdictPage } from '../../../src/core/report/verdictPage.ts';
import { assessVisit } from '../../../src/core/visit/assessVisit.ts';
import { DEMO_VISITS } from '../../../src/core/visit/demo/demoVisits.ts';
import { readVisit } from '../../../src/core/visit/readVisit.ts';

const edgy = <T>(...values: readonly T[]) => fc.option(fc.constantFrom(...values), { nil: undefined });
const count = fc.constantFrom(0, 1, 2, 40, 1_000_000);

const planting = fc.record({
  plantedOn: fc.constantFrom('2026-01-01', '2026-05-27', '2026-06-08'),
  marketClass: fc.constantFrom('pinto', 'navy', '', 'moon'),
  growthHabit: edgy('I', 'II', 'III'),
  rowWidth: edgy('0 in', '15 in', '30 in', '75 cm', '900 m'),
  rowUnits: edgy(1, 8),
  seedDrop: edgy('0 seeds/ac', '90,000 seeds/ac', '1 seeds/m2'),
  seedSpacing: edgy('0 in', '2.5 in'),
  depth: edgy('0 in', '2 in', '5 m'),
  target: edgy('0 plants/ac', '75,000 plants/ac'),
});
const counts = fc.oneof(
  fc.record({
    kind: fc.constant('rows'),
    length: fc.constantFrom('0 ft', '17 ft 5 in', '0.001 mm'),
    plants: fc.array(count, { minLength: 1, maxLength: 3 }),
    gaps: edgy([], ['90 ft'], ['26 in', '0 in']),
    readings: edgy([], ['1 in'], ['1 in', '1 in'], ['9 in', '3 in', '40 in']),
  }),
  fc.record({ kind: fc.constant('hoop'), insideDiameter: fc.constantFrom('0 in', '30 in'), plants: count }),
  fc.record({
    kind: fc.constant('quadrat'),
    width: fc.constant('1 m'),
    length: fc.constantFrom('0 m', '50 cm'),
    plants: count,
  }),
);
const tally = fc.record({ growing: count, budsAlive: count, doubtful: count, dead: count });
const dig = fc.record({ sprouting: count, hard: count, rotted: count, eaten: count, notFound: count });

/** Visits at the edges of what the schema lets through. */
const anyVisit = fc.record({
  base: fc.constantFrom(...DEMO_VISITS),
  visitedOn: fc.constantFrom('2026-06-08', '2026-06-20', '2026-12-31'),
  units: fc.constantFrom('imperial', 'metric'),
  planting,
  counts: fc.array(counts, { maxLength: 6 }),
  zoned: fc.boolean(),
  tally: fc.option(tally),
  dig: fc.option(dig),
  temperature: fc.option(fc.constantFrom('-40 C', '5 C', '18 C', '60 C')),
  price: fc.option(fc.constantFrom('0/cwt', '35/cwt')),
  fullYield: fc.constantFrom('0 lb/ac', '2,200 lb/ac'),
  earlier: fc.option(fc.constantFrom('0 plants/ac', '50,000 plants/ac')),
});

describe('any visit that the schema lets through', () => {
  it('gets a reasoned answer: a verdict, reasons, cautions, no broken number, no exception', () => {
    fc.assert(
      fc.property(anyVisit, (v) => {
        const on = v.visitedOn;
        const raw = {
          ...v.base,
          visitedOn: on,
          units: v.units,
          planting: { id: 'p', ...v.planting },
          zones: v.zoned
            ? [
                { id: 'a', name: 'A', area: '10 ac' },
                { id: 'b', name: 'B', area: '0 ac' },
              ]
            : undefined,
          spots: v.counts.map((c, i) => ({
            id: `s${i}`,
            ...(v.zoned ? { zoneId: i % 2 ? 'a' : 'b' } : {}),
            counts: [{ id: `c${i}`, ...c }],
          })),
          corrections: undefined,
          damage:
            v.tally === null ? undefined : [{ id: 'd', hazard: 'hail', happenedOn: '2026-06-08', plants: v.tally }],
          digChecks: v.dig === null ? undefined : [{ id: 'g', on, ...v.dig }],
          weather:
            v.temperature === null
              ? undefined
              : { days: [{ on, minimum: v.temperature, maximum: v.temperature, medium: 'air' }] },
          earlierCounts: v.earlier === null ? undefined : [{ id: 'e', on, population: v.earlier }],
          economics:
            v.price === null
              ? undefined
              : { currency: '$', fullYield: v.fullYield, price: v.price, seed: '60/ac', planting: '20/ac' },
        };
        const read = readVisit(JSON.parse(JSON.stringify(raw)));
        if (!read.ok) throw new Error(read.found);
        const made = assessVisit(read.value);
        expect(made.decision.reasons.length).toBeGreaterThan(0);
        expect(made.decision.wouldChange.length).toBeGreaterThan(0);
        expect(made.cautions.length).toBeGreaterThan(0);
        const text = JSON.stringify(made, (_k, x: unknown) =>
          typeof x === 'number' && !Number.isFinite(x) ? 'broken' : x,
        );
        expect(text).not.toContain('"broken"');
        for (const page of [verdictPage(made), explainPage(made), verdictHtml(made)]) {
          expect(page).not.toMatch(/\bNaN\b|\bInfinity\b|\bundefined\b|\bunknown plants/);
        }
      }),
      { numRuns: 150 },
    );
  });
});
