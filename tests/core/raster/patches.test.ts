import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeBitMask } from '../../../src/core/raster/bitMask.ts';
import { maskRuns } from '../../../src/core/raster/maskRuns.ts';
import { patchesOf } from '../../../src/core/raster/patches.ts';
import { type Runs, runsOf } from '../../../src/core/raster/runs.ts';
import { floodLabels } from '../../support/floodLabels.ts';

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

describe('maskRuns', () => {
  test('gives the mask back', () => {
    fc.assert(
      fc.property(picture, (rows) => {
        const [widthPx, heightPx] = [rows[0]!.length, rows.length];
        const data = Uint8Array.from(rows.join(''), (c) => (c === '#' ? 1 : 0));
        expect(drawn(maskRuns({ widthPx, heightPx, data }), widthPx)).toEqual(rows);
      }),
    );
  });
});

/** Regions of what is not '#', joined by sides, in a picture with one pixel of outside all round: all but the outside are holes. */
function holesIn(rows: readonly string[]): number {
  const w = rows[0]!.length + 2;
  const open = [...'.'.repeat(w), ...rows.flatMap((row) => ['.', ...row, '.']), ...'.'.repeat(w)].map((c) => c !== '#');
  let regions = 0;
  for (let start = 0; start < open.length; start++) {
    if (!open[start]) continue;
    regions++;
    const queue = [start];
    open[start] = false;
    for (const i of queue) {
      for (const [j, onRow] of [
        [i - 1, i % w > 0],
        [i + 1, i % w < w - 1],
        [i - w, true],
        [i + w, true],
      ] as const) {
        if (!onRow || !open[j]) continue;
        open[j] = false;
        queue.push(j);
      }
    }
  }
  return regions - 1;
}

describe('patchesOf', () => {
  test('counts the holes of each patch that a flood fill of what is beside it finds', () => {
    const dense = fc.array(
      fc.array(fc.constantFrom('#', '#', '#', '.'), { minLength: 8, maxLength: 8 }).map((c) => c.join('')),
      { minLength: 1, maxLength: 9 },
    );
    fc.assert(
      fc.property(dense, (rows) => {
        const runs = runsOf(maskOf(rows), 0);
        const patches = patchesOf(runs);
        for (let p = 0; p < patches.count; p++) {
          const alone = rows.map((row) => [...row].fill('.'));
          for (let i = patches.firstRun[p]!; i >= 0; i = patches.nextRun[i]!) {
            const y = runs.rowStart.findIndex((start, k) => start <= i && i < (runs.rowStart[k + 1] ?? i));
            alone[y]!.fill('#', runs.from[i]!, runs.to[i]! + 1);
          }
          expect(patches.holes[p]).toBe(holesIn(alone.map((row) => row.join(''))));
        }
      }),
    );
  });

  test('finds the components that labelling pixel by pixel finds, in the same order', () => {
    fc.assert(
      fc.property(picture, (rows) => {
        const [w, h] = [rows[0]!.length, rows.length];
        const data = Uint8Array.from(rows.join(''), (c) => (c === '#' ? 1 : 0));
        const labels = floodLabels({ widthPx: w, heightPx: h, data });
        const count = Math.max(...labels);
        const runs = runsOf(maskOf(rows), 0);
        const patches = patchesOf(runs);
        expect(patches.count).toBe(count);
        for (let p = 0; p < count; p++) {
          const mine = [...labels.keys()].filter((i) => labels[i] === p + 1);
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
          expect(patches.areaPx[p]).toBe(mine.length);
        }
      }),
    );
  });
});
