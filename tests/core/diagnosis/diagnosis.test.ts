import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planterLessons } from '../../../src/core/diagnosis/planterLessons.ts';
import { CAUSES, rankCauses } from '../../../src/core/diagnosis/rankCauses.ts';
import type { SignId } from '../../../src/core/diagnosis/signs.ts';
import { SIGNS } from '../../../src/core/diagnosis/signs.ts';
import { formatSource } from '../../../src/core/sources/source.ts';

const sign = fc.constantFrom(...(Object.keys(SIGNS) as SignId[]));

describe('rankCauses', () => {
  // Signs and patterns as printed by the publications that each cause cites.
  it.each([
    // UW-Madison IPCM 2018: maggots in sound seed, snakeheads, random pattern, tilled green manure.
    ['seedcorn maggot', ['white maggots', 'snakeheads', 'random pattern', 'green manure']],
    // UW-Madison IPCM 2019; NDSU entomology: wiry larvae, clumped.
    ['wireworm', ['wiry larvae', 'fed-on seed', 'patches']],
    // Ontario dry bean agronomy, soil crusting.
    ['crusting', ['leaves underground', 'snapped cotyledons', 'pounding rain', 'fine soil']],
    // PNW Handbook and NDSU text: red-brown inside a split tap root.
    ['fusarium', ['red inside', 'stunted', 'short rotation']],
    // Ontario dry bean agronomy, bald heads.
    ['seed damage', ['no growing point', 'cracked coats', 'dry seed']],
    // Ontario field crop news 2011: bleached new trifoliolates, corn herbicide last year.
    ['group 27 carry-over', ['bleached', 'overlaps', 'corn herbicide']],
    // Iowa State University 2017.
    ['group 14 herbicide', ['necrotic spots', 'low spots', 'group 14']],
    // Manitoba Pulse & Soybean Growers: soil below 15 C; Iowa State, cold water in the first day.
    ['chilling', ['uneven emergence', 'twisted hypocotyl', 'cool wet', 'cold first day']],
    // Colorado State Fact Sheet 0.539.
    ['salt', ['scorched margins', 'soil test salt', 'seeps']],
  ] as const)('%s leads on its own printed signs', (id, seen) => {
    expect(rankCauses({ seen, notSeen: [] }).ranked[0]!.cause.id).toBe(id);
  });

  it('says nothing from nothing', () => {
    expect(rankCauses({ seen: [], notSeen: [] })).toMatchObject({ ranked: [], nextSign: null });
  });

  it('shares sum to one and the order of signs does not matter', () => {
    fc.assert(
      fc.property(fc.uniqueArray(sign, { minLength: 1, maxLength: 8 }), (seen) => {
        const ranked = rankCauses({ seen, notSeen: [] }).ranked;
        const again = rankCauses({ seen: [...seen].reverse(), notSeen: [] }).ranked;
        expect(ranked.reduce((sum, r) => sum + r.share, 0)).toBeCloseTo(1, 9);
        const byId = new Map(again.map((r) => [r.cause.id, r.share]));
        for (const r of ranked) expect(byId.get(r.cause.id)).toBeCloseTo(r.share, 9);
      }),
    );
  });

  it('a sign seen lifts every cause that it nearly proves, a sign missed lowers it', () => {
    const base = rankCauses({ seen: ['patches'], notSeen: [] });
    const share = (d: typeof base, id: string) => d.ranked.find((r) => r.cause.id === id)!.share;
    for (const cause of CAUSES) {
      for (const s of cause.signs.filter((x) => x.strength === 'telling' && x.sign !== 'patches')) {
        const seen = rankCauses({ seen: ['patches', s.sign], notSeen: [] });
        const missed = rankCauses({ seen: ['patches'], notSeen: [s.sign] });
        expect(share(seen, cause.id)).toBeGreaterThan(share(base, cause.id));
        expect(share(missed, cause.id)).toBeLessThan(share(base, cause.id));
      }
    }
  });

  it('asks next for a sign not yet looked for', () => {
    const found = rankCauses({ seen: ['cool wet'], notSeen: ['white maggots'] });
    expect(found.nextSign).not.toBeNull();
    expect(['cool wet', 'white maggots']).not.toContain(found.nextSign!.sign);
  });

  it('every sign belongs to a cause and every cause shows its source', () => {
    for (const id of Object.keys(SIGNS)) expect(CAUSES.some((c) => c.signs.some((s) => s.sign === id))).toBe(true);
    for (const cause of CAUSES) expect(formatSource(cause.source).length).toBeGreaterThan(10);
    expect(new Set(CAUSES.map((c) => c.id)).size).toBe(CAUSES.length);
  });
});

describe('planterLessons', () => {
  const nothing = {
    missShare: null,
    multiplesShare: null,
    precision: null,
    establishment: null,
    depthM: null,
    rowUnitsDiffer: null,
  };

  it('is silent when nothing was measured', () => {
    expect(planterLessons(nothing)).toEqual([]);
  });

  // MSU 2019: 95.4 to 97.6 % of black bean seed stood; Saskatchewan: germination less 5 to 15 points.
  it('does not blame the planter for the establishment of the Michigan trial', () => {
    for (const share of [0.958, 0.976, 0.968, 0.96, 0.954]) {
      expect(planterLessons({ ...nothing, establishment: share })).toEqual([]);
    }
    expect(planterLessons({ ...nothing, establishment: 0.6 })).toHaveLength(1);
  });

  it('names skips, doubles and depth when they stand out', () => {
    const lessons = planterLessons({ ...nothing, missShare: 0.2, multiplesShare: 0.15, depthM: 0.08 });
    expect(lessons.map((l) => l.says).join('\n')).toMatch(/skips[\s\S]*doubles[\s\S]*deeper/);
  });
});
