import { describe, expect, test } from 'vitest';
import { parseReference } from '../../src/core/reference/parseReference.ts';
import {
  FIRST_SIZES,
  referenceText,
  type SizedKind,
  sizedReference,
  sizedWords,
} from '../../src/ui/edits/sizedReference.ts';

const KINDS = Object.keys(FIRST_SIZES) as SizedKind[];

/** No outside source: a size said on the page is the size that is measured with. 1 ft is 0.3048 m exactly. */
describe('what lies beside the row, with its size', () => {
  test.each(KINDS)('%s: what is offered first is read, and comes back as it was', (kind) => {
    for (const sizes of Object.values(FIRST_SIZES[kind])) {
      const text = referenceText({ kind, sizes });
      expect(parseReference(text).ok).toBe(true);
      expect(sizedReference(text)).toEqual({ kind, sizes });
    }
  });

  test.each([
    ['rod', ['6ft'], { kind: 'rod', lengthM: 1.8288 }],
    ['bands', ['1 ft'], { kind: 'rod', bandM: 0.3048 }],
    ['tape', ['10 ft'], { kind: 'tape', lengthM: 3.048 }],
    ['frame', ['2 ft', '1 m'], { kind: 'frame', alongM: 0.6096, acrossM: 1 }],
  ] as const)('%s of %s', (kind, sizes, wanted) => {
    const read = parseReference(referenceText({ kind, sizes }));
    if (!read.ok) throw new Error(read.found);
    for (const [name, value] of Object.entries(wanted)) {
      const got = (read.value as unknown as Record<string, unknown>)[name];
      if (typeof value === 'number') expect(got).toBeCloseTo(value, 12);
      else expect(got).toBe(value);
    }
  });

  test('what was typed in earlier versions is known again; units of a tape are no size', () => {
    expect(sizedReference('rod:banded:1ft')).toEqual({ kind: 'bands', sizes: ['1ft'] });
    expect(sizedReference('frame:2ftx2ft')).toEqual({ kind: 'frame', sizes: ['2ft', '2ft'] });
    expect(['tape:in', 'tape:cm', 'auto', 'cards'].map(sizedReference)).toEqual([null, null, null, null]);
    expect(sizedWords({ kind: 'frame', sizes: ['2 ft', '1 m'] })).toBe('Frame 2 ft x 1 m');
  });
});
