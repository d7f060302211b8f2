import { describe, expect, it } from 'vitest';
import { reviewOrder } from '../../../src/core/corrections/reviewOrder.ts';
import { assessVisit } from '../../../src/core/visit/assessVisit.ts';
import { countDecides } from '../../../src/core/visit/countDecides.ts';
import { windmillEighty } from '../../../src/core/visit/demo/windmillEighty.ts';
import type { VisitDocument } from '../../../src/core/visit/visitSchema.ts';
import { drawnCount } from '../corrections/drawnCount.ts';
import { checked } from './visitSupport.ts';

/** Half of the marks could be either. */
const PHOTO = drawnCount('xoxoxoxoxoxoxoxoxoxo');

/** Hand counts of a thousandth of an acre beside one photo of a row, no costs: the floor decides. */
function visitWith(plants: readonly number[], corrections: VisitDocument['corrections'] = []): VisitDocument {
  const {
    economics: _costs,
    damage: _hurt,
    weather: _weather,
    digChecks: _dug,
    zones: _zones,
    ...plain
  } = windmillEighty;
  return checked({
    ...plain,
    visitedOn: '2026-07-05',
    spots: [
      ...plants.map((n, i) => ({
        id: `s${i}`,
        counts: [{ id: `c${i}`, kind: 'rows' as const, length: '17 ft 5 in', plants: [n] }],
      })),
      { id: 'p', counts: [{ id: 'photo', kind: 'photo' as const, result: PHOTO as never }] },
    ],
    corrections,
  });
}

describe("whether a photo's doubt can change the verdict", () => {
  const floor = assessVisit(visitWith([70, 70, 70])).floorPerM2 * 4.0468564224;

  it('cannot where the other spots settle it, whatever the photo shows', () => {
    for (const plants of [3 * floor, 0.1 * floor]) {
      const many = Array.from({ length: 9 }, (_, i) => Math.round(plants + (i % 3)));
      expect(countDecides(visitWith(many), 'photo')).toBe(false);
    }
  });

  it('can where the field lies so near its floor that the two ends of the photo part it', () => {
    const answers = Array.from({ length: 60 }, (_, k) => {
      const plants = Math.round(floor * (0.9 + 0.02 * k));
      return countDecides(visitWith([plants, plants, plants + 1, plants - 1]), 'photo');
    });
    expect(answers).toContain(true);
    expect(answers.at(-1)).toBe(false);
  });

  it('is not told while there are too few spots for a verdict, for other counts, and for one left out', () => {
    expect(countDecides(visitWith([]), 'photo')).toBeNull();
    expect(countDecides(visitWith([40, 41, 42]), 'c0')).toBeNull();
    const leftOut = {
      id: 'k',
      at: '2026-07-05T12:00:00Z',
      by: 'tomas',
      countId: 'photo',
      change: { kind: 'leave out' as const },
    };
    expect(countDecides(visitWith([40, 41, 42], [leftOut]), 'photo')).toBeNull();
  });

  it('puts its marks first in the order of questions, or none', () => {
    const ask = (decides: boolean | null) => reviewOrder(PHOTO, [], null, decides);
    expect(ask(true).filter((q) => q.decides).length).toBeGreaterThan(5);
    expect(ask(false).some((q) => q.decides)).toBe(false);
    // A verdict that is settled outweighs an interval that holds the floor.
    const open = PHOTO.count.value / (PHOTO.stretch!.lengthM * PHOTO.setting!.rowWidthM!);
    expect(reviewOrder(PHOTO, [], open).some((q) => q.decides)).toBe(true);
    expect(reviewOrder(PHOTO, [], open, false).some((q) => q.decides)).toBe(false);
  });
});
