import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeBitMask } from '../../../src/core/raster/bitMask.ts';
import { labelComponents } from '../../../src/core/raster/labelComponents.ts';
import { patchesOf } from '../../../src/core/raster/patches.ts';
import { type Runs, runsOf } from '../../../src/core/raster/runs.ts';

function maskOf(rows: readonly string[]) {
  const mask = makeBitMask(rows[0]!.length, rows.length);
  rows.forEach((row, y) => {
    for (const [x, c] of [...row].entries())
      if (c === '#') mask.words[y * mask.wordsPerRow + (x >> 5)]! |= 1 << (x & 31);
  });
  return mask;
}

function drawn({ rowStart, from, to }: Runs, widthPx: number): string[] {
  return Array.from({ length: rowStart.length - 1 }, (_, y) => {
    const row = Array<string>(widthPx).fill('.');
    for (let i = rowStart[y]!; i < rowStart[y + 1]!; i++) row.fill('#', from[i]!, to[i]! + 1);
    return row.join('');
  });
}

/** Widths around a word of 32 pixels, where runs are carried on. */
const picture = fc
  .record({ w: fc.constantFrom(1, 5, 31, 32, 33, 64, 70), h: fc.integer({ min: 1, max: 9 }) })
  .chain(({ w, h }) =>
    fc.array(
      fc.array(fc.constantFrom('#', '.', '.'), { minLength: w, maxLength: w }).map((c) => c.join('')),
      { minLength: h, maxLength: h },
    ),
  );

describe('runsOf', () => {
  test('gives the mask back', () => {
    fc.assert(
      fc.property(picture, (rows) => {
        expect(drawn(runsOf(maskOf(rows), 0), rows[0]!.length)).toEqual(rows);
      }),
    );
  });

  test('widens patches to all sides, as setting every pixel with a set one within reach does', () => {
    fc.assert(
      fc.property(picture, fc.integer({ min: 1, max: 4 }), (rows, by) => {
        const wider = rows.map((row, y) =>
          [...row]
            .map((_, x) =>
              rows
                .slice(Math.max(0, y - by), y + by + 1)
                .some((r) => r.slice(Math.max(0, x - by), x + by + 1).includes('#'))
                ? '#'
                : '.',
            )
            .join(''),
        );
        const runs = runsOf(maskOf(rows), by);
        expect(drawn(runs, rows[0]!.length)).toEqual(wider);
        // runs of a row neither touch nor overlap
        for (let y = 0; y + 1 < runs.rowStart.length; y++) {
          for (let i = runs.rowStart[y]! + 1; i < runs.rowStart[y + 1]!; i++) {
            expect(runs.from[i]!).toBeGreaterThan(runs.to[i - 1]! + 1);
          }
        }
      }),
    );
  });
});

describe('patchesOf', () => {
  test('finds the components that labelling pixel by pixel finds, in the same order', () => {
    fc.assert(
      fc.property(picture, (rows) => {
        const [w, h] = [rows[0]!.length, rows.length];
        const data = Uint8Array.from(rows.join(''), (c) => (c === '#' ? 1 : 0));
        const { labels, count, areasPx } = labelComponents({ widthPx: w, heightPx: h, data });
        const runs = runsOf(maskOf(rows), 0);
        const patches = patchesOf(runs);
        expect(patches.count).toBe(count);
        expect([...patches.areaPx]).toEqual([...areasPx.subarray(1)]);
        for (let p = 0; p < count; p++) {
          const mine = [...labels.data.keys()].filter((i) => labels.data[i] === p + 1);
          const [xs, ys] = [mine.map((i) => i % w), mine.map((i) => Math.floor(i / w))];
          expect([patches.left[p], patches.right[p], patches.top[p], patches.bottom[p]]).toEqual([
            Math.min(...xs),
            Math.max(...xs),
            Math.min(...ys),
            Math.max(...ys),
          ]);
          let area = 0;
          for (let i = patches.firstRun[p]!; i >= 0; i = patches.nextRun[i]!) area += runs.to[i]! - runs.from[i]! + 1;
          expect(area).toBe(mine.length);
        }
      }),
    );
  });
});
