import { describe, expect, test } from 'vitest';
import { DEMO_VISITS } from '../../src/core/visit/demo/demoVisits.ts';
import { namedSpots } from '../../src/ui/edits/namedSpots.ts';
import { momentText } from '../../src/ui/parts/momentText.ts';
import { unbroken } from '../../src/ui/parts/unbroken.ts';

/** Where a line may end. */
const pieces = (text: string) => unbroken(text).split(' ');

describe('words on the pages', () => {
  // A number and its unit are not parted at the end of a line: common practice of typesetting, no source.
  test.each([
    ['18 ha, Alder Flat Farm', ['18\u00a0ha,', 'Alder', 'Flat', 'Farm']],
    ['± 120 % of the mean', ['±\u00a0120\u00a0%', 'of', 'the', 'mean']],
    ['0 to 36,000 plants/ac at 90 %', ['0', 'to', '36,000\u00a0plants/ac', 'at', '90\u00a0%']],
    ['planted 6 November', ['planted', '6\u00a0November']],
    ['no number', ['no', 'number']],
  ])('%s', (text, wanted) => {
    expect(pieces(text)).toEqual(wanted);
  });

  test('a moment is told by the clock of this device', () => {
    const at = new Date(2026, 10, 27, 17, 4, 59).toISOString();
    expect(momentText(at)).toBe('27 November 2026, 17:04');
    expect(momentText('long ago')).toBe('long ago');
  });

  test('spots and counts by the names on the pages, never by their ids', () => {
    const visit = DEMO_VISITS[0]!;
    const [first, second] = visit.spots;
    const said = `spot "${second!.id}" is far high; ${first!.counts[0]!.id} was left out: taken out on the spot`;
    expect(namedSpots(said, visit)).toBe('spot 2 is far high; the count was left out: taken out on the spot');
  });
});
