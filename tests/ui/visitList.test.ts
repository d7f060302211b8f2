import { describe, expect, test } from 'vitest';
import { briefOf } from '../../src/browser/store/briefOf.ts';
import type { Row } from '../../src/browser/store/storeTypes.ts';
import type { Json } from '../../src/core/sync/json.ts';
import { DEMO_VISITS } from '../../src/core/visit/demo/demoVisits.ts';
import { ALL_VISITS, choicesOf, visitList, wantedVisits } from '../../src/ui/edits/visitList.ts';

const row = (kind: 'visit' | 'field', thing: string, document: unknown): Row => ({
  thingKey: `${kind}/${thing}`,
  kind,
  thing,
  brief: briefOf(kind, document as Json),
  conflicts: 0,
  updatedAt: '1',
});
const rows = DEMO_VISITS.map((visit) => row('visit', visit.id, visit));
const older = { ...structuredClone(DEMO_VISITS[0]!), id: 'older', season: 2024, visitedOn: '2024-06-20' };
const all = visitList([...rows, row('visit', 'older', older)]);
const ids = (filter: Partial<typeof ALL_VISITS>) =>
  wantedVisits(all, { ...ALL_VISITS, ...filter }).map((line) => line.id);
const expected = (keep: (visit: (typeof DEMO_VISITS)[number]) => boolean) =>
  DEMO_VISITS.filter(keep)
    .map((visit) => visit.id)
    .sort();

describe('the list of visits', () => {
  test('holds every visit, newest first, and nothing wanted leaves them all', () => {
    expect(all).toHaveLength(DEMO_VISITS.length + 1);
    expect(all.map((line) => line.visitedOn)).toEqual(
      all
        .map((line) => line.visitedOn)
        .sort()
        .reverse(),
    );
    expect(ids({})).toHaveLength(all.length);
  });

  test('by season, class, field and days, alone and together', () => {
    const [first] = DEMO_VISITS;
    expect(ids({ season: '2024' })).toEqual(['older']);
    expect(ids({ marketClass: 'pinto', season: '2026' }).sort()).toEqual(
      expected((visit) => visit.planting.marketClass === 'pinto'),
    );
    expect(ids({ field: first!.field.id, season: '2026' }).sort()).toEqual(
      expected((visit) => visit.field.id === first!.field.id),
    );
    const day = first!.visitedOn;
    expect(ids({ from: day, to: day }).sort()).toEqual(expected((visit) => visit.visitedOn === day));
    expect(ids({ from: '2030-01-01' })).toEqual([]);
  });

  test('by words of field, farm, class and people; all of them must be there', () => {
    expect(ids({ words: 'KNOLL  northern', season: '2026' })).toEqual(
      expected((visit) => visit.field.name === 'Knoll Quarter'),
    );
    expect(ids({ words: 'solheim' })).toHaveLength(
      all.length - DEMO_VISITS.filter((visit) => !visit.people.some((one) => one.name === 'Marit Solheim')).length,
    );
    expect(ids({ words: 'knoll nosuchword' })).toEqual([]);
  });

  test('shows a field under the name that its own document gives it; what was removed is gone', () => {
    const [first] = DEMO_VISITS;
    const renamed = visitList([...rows, row('field', first!.field.id, { name: 'Renamed' })]);
    expect(renamed.find((line) => line.id === first!.id)?.fieldName).toBe('Renamed');
    expect(visitList([row('visit', 'gone', { ...first, removed: true })])).toEqual([]);
  });

  test('says what can be chosen, each with its number of visits', () => {
    const seasons = choicesOf(all, (line) => [line.season, line.season]);
    expect(seasons).toEqual([
      { value: '2024', label: '2024', visits: 1 },
      { value: '2026', label: '2026', visits: DEMO_VISITS.length },
    ]);
  });

  test('a document in ruins is listed, not thrown at', () => {
    expect(visitList([row('visit', 'odd', { field: 7, people: 'x', spots: {} })])).toMatchObject([
      { id: 'odd', fieldName: '', spots: 0 },
    ]);
  });
});
