import { describe, expect, it } from 'vitest';
import { loneDoubles } from '../../../src/core/detector/loneDoubles.ts';
import type { Detection, PlantKind } from '../../../src/core/plants/detection.ts';

function mark(x: number, y: number, kind: PlantKind = 'plant', doubleChance = 0.6): Detection {
  const at = [x, y] as const;
  return {
    id: `${x}`,
    baseStripPx: at,
    crownStripPx: at,
    kind,
    confidence: 0.9,
    doubleChance,
    leafAreaMm2: 400,
    boxStripPx: [x - 5, y - 5, x + 5, y + 5],
    alongSdMm: 6,
  };
}

/** The chances of a double that are left, at 2 mm a pixel. */
const left = (...marks: Detection[]): number[] => loneDoubles(marks, 2).map((m) => m.doubleChance);

describe('what is left of the chance of a double', () => {
  it('is nothing for two counted plants 16 mm apart: the pair is counted already', () => {
    expect(left(mark(100, 50), mark(108, 50))).toEqual([0, 0]);
  });
  it('is all of it for plants 24 mm apart, and for one alone', () => {
    expect(left(mark(100, 50), mark(112, 50))).toEqual([0.6, 0.6]);
    expect(left(mark(100, 50))).toEqual([0.6]);
  });
  it('is all of it where the mark beside was not counted', () => {
    expect(left(mark(100, 50), mark(108, 50, 'unsure'))).toEqual([0.6, 0]);
    expect(left(mark(100, 50), mark(108, 50, 'weed'))).toEqual([0.6, 0]);
  });
  it('does not hang on the order of the marks', () => {
    const marks = [mark(100, 50), mark(108, 50), mark(140, 50), mark(146, 53, 'unsure')];
    const byId = (list: readonly Detection[]) => new Map(list.map((m) => [m.id, m.doubleChance]));
    expect(byId(loneDoubles([...marks].reverse(), 2))).toEqual(byId(loneDoubles(marks, 2)));
  });
  it('is nothing of nothing', () => {
    expect(left()).toEqual([]);
  });
});
