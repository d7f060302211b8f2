import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { flatten } from '../../../src/core/sync/flatten.ts';
import { unflatten } from '../../../src/core/sync/unflatten.ts';
import { anyDocument } from './arbitraries.ts';

describe('a document as separate values', () => {
  test('things with an id are addressed by it, plain lists stay whole', () => {
    const visit = { date: '2026-06-12', spots: [{ id: 's1', alongM: [0.1, 0.2] }, { id: 's2' }], tags: [] };
    expect([...flatten(visit)]).toEqual([
      ['/date', '2026-06-12'],
      ['/spots/[s1]', 1],
      ['/spots/[s1]/alongM', [0.1, 0.2]],
      ['/spots/[s2]', 2],
      ['/tags', []],
    ]);
  });

  test('an element put between two others changes no number but its own', () => {
    const known: Record<string, number> = { '/[a]': 1, '/[c]': 2 };
    const list = [{ id: 'a' }, { id: 'b' }, { id: 'c' }];
    expect([...flatten(list, (path) => known[path])]).toEqual([
      ['/[a]', 1],
      ['/[b]', 1.5],
      ['/[c]', 2],
    ]);
  });

  test('every document comes back as it was', () => {
    fc.assert(
      fc.property(anyDocument, (document) => {
        expect(unflatten(flatten(document))).toEqual({ document, unplaced: [] });
      }),
    );
  });

  test('a hundred elements put first, one after another, stay in order', () => {
    let known = new Map<string, unknown>();
    const list: { id: string }[] = [];
    for (let i = 0; i < 100; i++) {
      list.splice(1, 0, { id: `e${i}` });
      known = new Map(flatten(list, (path) => known.get(path) as number | undefined));
      expect(unflatten(known as never).document).toEqual(list);
    }
  });

  test('the deeper of two shapes is kept and the other reported', () => {
    const values = new Map<string, never>([
      ['/note', 'dry' as never],
      ['/note/soil', 'crusted' as never],
    ]);
    expect(unflatten(values)).toEqual({
      document: { note: { soil: 'crusted' } },
      unplaced: [{ path: '/note', value: 'dry', instead: { soil: 'crusted' } }],
    });
  });
});
