import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { judgePlant } from '../../src/core/damage/growingPoint.ts';
import type { Position } from '../../src/core/sampling/randomPoints.ts';
import type { Json } from '../../src/core/sync/json.ts';
import { assessDamage } from '../../src/core/visit/assessDamage.ts';
import { readVisit } from '../../src/core/visit/readVisit.ts';
import type { VisitDocument } from '../../src/core/visit/visitSchema.ts';
import { emptyCount, isEmpty, plantsAdded, plantsIn } from '../../src/ui/edits/handCount.ts';
import {
  addSeen,
  addWeatherDays,
  putZone,
  removeWeatherDay,
  removeZone,
  seenBy,
  setRole,
  setSign,
  setSky,
  setSpotNote,
  setSpotZone,
} from '../../src/ui/edits/noteEdits.ts';
import { gpsStops } from '../../src/ui/edits/walkStops.ts';
import { FINDINGS, seenPlants } from '../../src/ui/notes/findings.ts';
import { withUnit } from '../../src/ui/parts/withUnit.ts';
import { FIRST_SETTINGS } from '../../src/ui/state/settings.ts';
import { demoVisitCopy } from './visitCopy.ts';

function visitAfter(...edits: readonly ((document: Json) => Json)[]): VisitDocument {
  const document = edits.reduce((now, edit) => edit(now), demoVisitCopy('Knoll Quarter'));
  const read = readVisit(document);
  if (!read.ok) throw new Error(read.found);
  return read.value;
}

describe('notes give documents that the engine reads', () => {
  test('a zone taken away leaves no spot, damage or dig in it; the last one gone, the field is one', () => {
    const visit = visitAfter(removeZone('knolls'));
    expect(visit.zones?.map((zone) => zone.id)).toEqual(['flat', 'low']);
    expect(visit.spots.filter((spot) => spot.zoneId === 'knolls')).toEqual([]);
    expect(visit.damage?.map((one) => one.zoneId)).toEqual([undefined]);
    expect(visit.damage?.[0]?.plants).toEqual(visitAfter().damage?.[0]?.plants);
    expect(visitAfter(removeZone('flat'), removeZone('low'), removeZone('knolls')).zones).toBeUndefined();
  });

  test('a zone is changed in place; a spot moves in and out of it', () => {
    const visit = visitAfter(putZone({ id: 'low', name: 'Low ground', area: '9 ac' }), setSpotZone('spot-1', 'low'));
    expect(visit.zones?.map((zone) => zone.area)).toEqual(['112 ac', '27 ac', '9 ac']);
    expect(visit.spots[0]?.zoneId).toBe('low');
    expect(visitAfter(setSpotZone('spot-1', null)).spots[0]).not.toHaveProperty('zoneId');
  });

  test('plants seen one by one: two people add up, a tap taken back leaves no trace, the rules judge each', () => {
    const [green, , , , low] = FINDINGS as [(typeof FINDINGS)[number], ...(typeof FINDINGS)[number][]];
    const before = visitAfter();
    const { id } = before.damage![0]!;
    const tap = (finding: (typeof FINDINGS)[number] | undefined, by: string, plants: 1 | -1 = 1) =>
      addSeen(id, finding!.id, finding!.signs, by, plants);
    const visit = visitAfter(
      tap(green, 'Ada Lind'),
      tap(green, 'Ada Lind'),
      tap(green, 'Ben Ruud'),
      tap(low, 'Ada Lind'),
    );
    const damage = visit.damage![0]!;
    expect(seenPlants(damage)).toBe(4);
    expect(seenPlants(damage, green.signs)).toBe(3);
    expect(seenBy(damage, green, 'Ada Lind')).toBe(2);
    // Cut below the cotyledons is dead, a green tip lives: the published rules that judgePlant names.
    const judged = (of: VisitDocument) => assessDamage(of)[0]!.viable?.plants ?? 0;
    expect(judged(visit)).toBe(judged(before) + 4);
    expect(visitAfter(tap(low, 'Ada Lind'), tap(low, 'Ada Lind', -1)).damage).toEqual(before.damage);
    expect(visitAfter(tap(low, 'Ada Lind', -1)).damage).toEqual(before.damage);
  });

  test('every finding has signs of its own, and the rules decide all but those that say so', () => {
    expect(new Set(FINDINGS.map(({ signs }) => JSON.stringify(signs))).size).toBe(FINDINGS.length);
    expect(new Set(FINDINGS.map(({ id }) => id)).size).toBe(FINDINGS.length);
    const open = FINDINGS.filter(({ signs }) => judgePlant(signs).state === 'doubtful').map(({ id }) => id);
    // Without the buds a brown tip says nothing; without cotyledons nothing feeds them (minnesotaSoybean).
    expect(open).toEqual(['tip-brown', 'cut-none']);
  });

  test('what a person does is noted and taken back', () => {
    const { id } = visitAfter().people[0]!;
    expect(visitAfter(setRole(id, ' scout ')).people[0]).toMatchObject({ id, role: 'scout' });
    expect(visitAfter(setRole(id, '')).people[0]).not.toHaveProperty('role');
  });

  test('a sign is there, not there or not looked for, never two of them', () => {
    const answers = fc.array(
      fc.tuple(fc.constantFrom('knolls', 'storm', 'patches'), fc.constantFrom(true, false, null)),
      { minLength: 1 },
    );
    fc.assert(
      fc.property(answers, (list) => {
        const visit = visitAfter(...list.map(([sign, isThere]) => setSign(sign as 'knolls', isThere)));
        const last = new Map(list);
        for (const [sign, isThere] of last) {
          expect(visit.signs?.seen.filter((one) => one === sign) ?? []).toHaveLength(isThere === true ? 1 : 0);
          expect(visit.signs?.notSeen.filter((one) => one === sign) ?? []).toHaveLength(isThere === false ? 1 : 0);
        }
      }),
    );
  });

  test('days of weather come in order, a day again replaces itself, soil and air stand side by side', () => {
    const day = (on: string, minimum: string, medium: 'soil' | 'air' = 'soil') => ({
      on,
      minimum,
      maximum: '70 F',
      medium,
    });
    const visit = visitAfter(
      addWeatherDays([day('2026-06-03', '50 F'), day('2026-06-01', '51 F')]),
      addWeatherDays([day('2026-06-03', '49 F'), day('2026-06-03', '40 F', 'air')]),
      setSky({ crust: 'hard' }),
      setSky({ rainExpected: true }),
      setSky({ crust: undefined }),
    );
    expect(visit.weather?.days.map((one) => [one.on, one.minimum])).toEqual([
      ['2026-06-01', '51 F'],
      ['2026-06-03', '40 F'],
      ['2026-06-03', '49 F'],
    ]);
    expect(visit.weather).toMatchObject({ rainExpected: true });
    expect(visit.weather).not.toHaveProperty('crust');
    const one = addWeatherDays([day('2026-06-01', '51 F')]);
    expect(visitAfter(one, removeWeatherDay({ on: '2026-06-01', medium: 'soil' })).weather?.days).toEqual([]);
  });

  test('a note stays with its spot and goes when it is emptied', () => {
    expect(visitAfter(setSpotNote('spot-2', 'crusted')).spots[1]?.note).toBe('crusted');
    expect(visitAfter(setSpotNote('spot-2', 'crusted'), setSpotNote('spot-2', ' ')).spots[1]).not.toHaveProperty(
      'note',
    );
  });
});

describe('a hand count', () => {
  test.each(['rows', 'hoop', 'quadrat'] as const)('of kind %s counts up and down, never below none', (kind) => {
    const empty = emptyCount('c1', kind, FIRST_SETTINGS);
    expect(isEmpty(empty)).toBe(true);
    const three = plantsAdded(plantsAdded(empty, 0, 1), 0, 2);
    expect(plantsIn(three, 0)).toBe(3);
    expect(isEmpty(three)).toBe(false);
    expect(plantsIn(plantsAdded(three, 0, -5), 0)).toBe(0);
    const visit = visitAfter(
      (document) => ({ ...(document as object), spots: [{ id: 's', counts: [three] }] }) as never,
    );
    expect(visit.spots[0]?.counts[0]).toEqual(three);
  });
});

describe('GPS stops', () => {
  // An L, wider than high: a box around it would put stops in the corner that is not field.
  const L: readonly Position[] = [
    [47.0, -98.0],
    [47.006, -98.0],
    [47.006, -97.997],
    [47.003, -97.997],
    [47.003, -97.988],
    [47.0, -97.988],
  ];
  const isOutside = ([latitude, longitude]: Position) => latitude > 47.003 && longitude > -97.997;

  test('lie in the field, stay the same for one visit, and differ between visits', () => {
    const many = gpsStops('v1', L, 40);
    if (!many.ok) throw new Error(many.found);
    expect(many.value).toHaveLength(41);
    expect(many.value.filter(isOutside)).toEqual([]);
    expect(gpsStops('v1', L, 40)).toEqual(many);
    expect(gpsStops('v2', L, 40)).not.toEqual(many);
  });

  test('more counted spots add stops and move none', () => {
    const all = gpsStops('v1', L, 12);
    if (!all.ok) throw new Error(all.found);
    for (let counted = 0; counted < 12; counted++) {
      const now = gpsStops('v1', L, counted);
      if (!now.ok) throw new Error(now.found);
      expect(now.value).toEqual(all.value.slice(0, now.value.length));
      expect(now.value.length).toBeGreaterThan(counted);
    }
  });

  test('the first three are one crossing; after them no side of the field waits until the end', () => {
    let isEast = 0;
    for (let i = 0; i < 400; i++) {
      const stops = gpsStops(`visit ${i}`, L, 3);
      if (!stops.ok) throw new Error(stops.found);
      const [a, b, c, fourth] = stops.value as readonly [Position, Position, Position, Position];
      expect(a[1] <= b[1] && b[1] <= c[1]).toBe(true);
      if (fourth[1] > c[1]) isEast++;
    }
    // Drawn like the others, the fourth is the easternmost one time in four: 100 of 400, sd 8.7; five sd either way.
    expect(Math.abs(isEast - 100)).toBeLessThan(44);
  });

  test('an outline without ground is refused', () => {
    expect(
      gpsStops(
        'v1',
        [
          [47, -98],
          [47, -98],
          [47, -98],
        ],
        0,
      ),
    ).toMatchObject({ ok: false });
  });
});

describe('a number typed alone', () => {
  test.each([
    ['34', '/cwt', '34/cwt'],
    ['2,200', 'lb/ac', '2,200 lb/ac'],
    ['-3', 'C', '-3 C'],
    ['40 bu/ac', 'lb/ac', '40 bu/ac'],
    ['7 1/2', 'in', '7 1/2 in'],
    ['', 'in', ''],
    ['17 ft 5 in', 'ft', '17 ft 5 in'],
  ])('%s with %s is %s', (typed, unit, whole) => {
    expect(withUnit(typed, unit)).toBe(whole);
  });
});
