import { describe, expect, it } from 'vitest';
import { applyCorrections } from '../../../src/core/visit/applyCorrections.ts';
import { windmillEighty } from '../../../src/core/visit/demo/windmillEighty.ts';
import { readVisit } from '../../../src/core/visit/readVisit.ts';
import type { VisitDocument } from '../../../src/core/visit/visitSchema.ts';
import { drawnCount } from '../corrections/drawnCount.ts';

type Change = NonNullable<VisitDocument['corrections']>[number]['change'];

function visitWith(changes: readonly object[]) {
  return readVisit(
    JSON.parse(
      JSON.stringify({
        ...windmillEighty,
        spots: [{ id: 's', counts: [{ id: 'photo', kind: 'photo', result: drawnCount('xxo.d?xx') }] }],
        corrections: changes.map((change, i) => ({
          id: `k${i}`,
          at: '2026-06-16T15:00:00Z',
          by: 'tomas',
          countId: 'photo',
          change,
        })),
      }),
    ),
  );
}

function corrected(changes: readonly Change[]) {
  const read = visitWith(changes);
  if (!read.ok) throw new Error(read.found);
  const { spots, corrections = [], people } = read.value;
  return applyCorrections(spots[0]!.counts[0]!, corrections, (id) => people.find((p) => p.id === id)!.name);
}

describe('a visit replays what was corrected on a photo', () => {
  it('every kind of correction is kept as it was made', () => {
    const changes: Change[] = [
      { kind: 'confirm plant', plantId: 'p0' },
      { kind: 'remove plant', plantId: 'p1' },
      { kind: 'name plant', plantId: 'p2', as: 'weed' },
      { kind: 'mark damaged', plantId: 'p0', damaged: true },
      { kind: 'add plant', plantId: 'n1', along: '35 cm' },
      { kind: 'add plant', plantId: 'n2', xPx: 450, yPx: 400 },
      { kind: 'move plant', plantId: 'p6', xPx: 700, yPx: 400 },
      { kind: 'split plant', plantId: 'p4' },
      { kind: 'merge plants', plantId: 'p6', otherId: 'p7' },
      { kind: 'move reading', readingM: 0, xPx: 101, yPx: 500 },
      { kind: 'undo', correctionId: 'k9' },
      { kind: 'redo', correctionId: 'k9' },
      { kind: 'undo', correctionId: 'k9' },
    ];
    const read = visitWith(changes);
    expect(read.ok && read.value.corrections!.map((one) => one.change)).toEqual(changes);
    const { count } = corrected(changes);
    if (count.kind !== 'photo') throw new Error('wanted a photo count');
    // p0, n1, n2, p4.1, p4.2 and p6 with p7.
    expect(count.result.count.value).toBe(6);
    expect(count.result.count.method).toMatch(/checked by Tomas Reyes$/);
  });

  it('an added plant without a place is refused, and the place is named', () => {
    const read = visitWith([{ kind: 'add plant', plantId: 'n', xPx: 3 }]);
    expect(read.ok ? '' : read.found).toMatch(/corrections\.0\.change.*needs its place/);
  });

  it('a total by hand and a photo left out can be taken back too', () => {
    const total: Change = { kind: 'set plants', plants: 30 };
    const value = (changes: Change[]) => {
      const { count } = corrected(changes);
      return count.kind === 'photo' ? count.result.count.value : null;
    };
    expect(value([total])).toBe(30);
    expect(value([total, { kind: 'undo', correctionId: 'k0' }])).toBe(6);
    expect(value([{ kind: 'remove plant', plantId: 'p0' }, total])).toBe(30);
    expect(corrected([{ kind: 'leave out' }]).leftOut).toBe('no reason given');
    expect(corrected([{ kind: 'leave out' }, { kind: 'undo', correctionId: 'k0' }]).leftOut).toBeNull();
  });
});
