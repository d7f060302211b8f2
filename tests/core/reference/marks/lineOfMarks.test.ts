import { describe, expect, it } from 'vitest';
import { applyHomography } from '../../../../src/core/geometry/homography.ts';
import { lineOfMarks } from '../../../../src/core/reference/marks/lineOfMarks.ts';
import { scaleReference } from '../../../../src/core/reference/marks/scaleReference.ts';
import type { Reading } from '../../../../src/core/reference/reference.ts';

const [W, H] = [4000, 3000];
/** A projective scale along a slanted line. */
const seen = (readingM: number): Reading => {
  const t = readingM / (1 + 0.15 * readingM);
  return { xPx: 300 + 1500 * t, yPx: 1400 + 120 * t, readingM };
};
const line = (marks: readonly Reading[]) => {
  const found = lineOfMarks(marks, W, H);
  if (found.kind === 'none') throw new Error(found.reason);
  return found;
};

describe('lineOfMarks', () => {
  it('takes two marks as ends, in the order of their readings', () => {
    const found = line([seen(2), seen(0)]);
    expect(found.endsM).toEqual([0, 2]);
    expect(found.endsPx[0]).toEqual([300, 1400]);
    expect(found.warnings).toEqual([]);
  });

  it('agrees with itself over many marks and expects the smaller error the longer they reach', () => {
    const long = line([0, 0.5, 1, 1.5, 2].map(seen));
    expect(long.warnings).toEqual([]);
    expect(long.lengthErrorMm / 2000).toBeLessThan(line([seen(0), seen(0.3)]).lengthErrorMm / 300);
  });

  it('leaves one wrong mark of five out and names it', () => {
    const marks = [0, 0.5, 1, 1.5, 2].map(seen);
    marks[3] = { ...marks[3]!, readingM: 1.7 };
    const found = line(marks);
    expect(found.readings).toHaveLength(4);
    expect(found.warnings).toMatchObject([{ code: 'mark-left-out', message: expect.stringContaining('1.700 m') }]);
  });

  it('warns when three marks do not lie on one line', () => {
    const bent = [seen(0), { ...seen(1), yPx: seen(1).yPx + 90 }, seen(2)];
    expect(line(bent).warnings.map((w) => w.code)).toEqual(['marks-disagree']);
  });

  it.each([
    ['none', []],
    ['one', [seen(0)]],
    ['the same twice', [seen(1), seen(1)]],
    ['one reading at two places', [seen(1), { ...seen(2), readingM: 1 }]],
    ['two readings at one place', [seen(1), { ...seen(1), readingM: 2 }]],
    ['outside the photo', [seen(0), { xPx: 5000, yPx: 10, readingM: 1 }]],
  ])('refuses marks that give no scale: %s', (_, marks) => {
    const found = lineOfMarks(marks, W, H);
    expect(found).toMatchObject({ kind: 'none', reason: expect.stringMatching(/^The hand marks give no scale: .+/) });
  });
});

describe('scaleReference', () => {
  it('runs along to the right and across up the picture from the middle of the left side', () => {
    const found = scaleReference(0.5, W, H);
    if (found.kind === 'none') throw new Error(found.reason);
    const [a, c] = applyHomography(found.photoToGround, [1000, 1499.5 - 200]);
    expect(a).toBeCloseTo(0.5, 9);
    expect(c).toBeCloseTo(0.1, 9);
    expect(found.endsM[1]).toBeCloseTo(1.9995, 9);
  });

  it.each([0, -1, Number.NaN, 1000])('refuses %s mm per pixel', (mmPerPx) => {
    expect(scaleReference(mmPerPx, W, H).kind).toBe('none');
  });
});
