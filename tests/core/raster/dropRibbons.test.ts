import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dropRibbons } from '../../../src/core/raster/dropRibbons.ts';
import { fieldToText, maskFromText, picture } from '../../support/maskText.ts';

const LIMITS = { minLengthPx: 16, maxWidthPx: 4 };

describe('dropRibbons', () => {
  it('takes a hose out, also where it bends, and keeps the leaf that lies on it', () => {
    const before = maskFromText(`
      ......######................
      ......######................
      ......######................
      ......######................
      #####.######.........#######
      ############################
      ...#########################
      ............................`);
    // the last row of the leaf cannot be told from the hose under it
    expect(fieldToText(dropRibbons(before, LIMITS))).toBe(
      picture(`
      ......######................
      ......######................
      ......######................
      ......######................
      ......######................
      ......######................
      ......######................
      ............................`),
    );
  });

  it('keeps leaves that touch in a long chain', () => {
    const leaves = maskFromText(`
      ..###......###.....####....
      .#####....#####...######...
      #######..#######.########..
      .#########################.
      ..#####...#####...######...
      ...###.....##......###.....`);
    expect(dropRibbons(leaves, LIMITS).data).toEqual(leaves.data);
  });

  it('sees an upright ribbon as well as a level one, keeps short ones, and never adds', () => {
    const cord = { widthPx: 5, heightPx: 30, data: new Uint8Array(150) };
    for (let y = 0; y < 30; y++) cord.data.set([1, 1], 5 * y + 1);
    expect(dropRibbons(cord, LIMITS).data.every((v) => v === 0)).toBe(true);
    expect(dropRibbons(cord, { ...LIMITS, minLengthPx: 31 }).data).toEqual(cord.data);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 1 }), { minLength: 120, maxLength: 120 }), (list) => {
        const mask = { widthPx: 20, heightPx: 6, data: Uint8Array.from(list) };
        const got = dropRibbons(mask, LIMITS).data;
        for (let i = 0; i < 120; i++) expect(got[i]! <= mask.data[i]!).toBe(true);
      }),
    );
  });
});
