import type { BitMask } from './bitMask.ts';
import { longer } from './longer.ts';

/** The set pixels of a mask as runs along its rows, in raster order. */
export interface Runs {
  /** Runs of row y are those from `rowStart[y]` to before `rowStart[y + 1]`. */
  readonly rowStart: Int32Array;
  readonly from: Int32Array;
  /** Last pixel, included. */
  readonly to: Int32Array;
}

/** Runs of a mask with every patch wider by `byPx` to all sides (a square dilation, cut at the border). */
export function runsOf(mask: BitMask, byPx: number): Runs {
  const { widthPx, heightPx, wordsPerRow } = mask;
  const words = byPx === 0 ? mask.words : taller(mask, byPx);
  const rowStart = new Int32Array(heightPx + 1);
  let from = new Int32Array(1 << 14);
  let to = new Int32Array(1 << 14);
  let n = 0;
  for (let y = 0; y < heightPx; y++) {
    rowStart[y] = n;
    if (n + (widthPx >> 1) + 1 > from.length) {
      from = longer(from);
      to = longer(to);
    }
    const first = n;
    let before = 0;
    for (let k = 0, at = y * wordsPerRow; k < wordsPerRow; k++, at++) {
      const word = words[at]!;
      // bits that differ from the pixel to their left: where runs begin and where they are past
      let turns = word ^ ((word << 1) | before);
      before = word >>> 31;
      while (turns !== 0) {
        const lowest = turns & -turns;
        const x = 32 * k + 31 - Math.clz32(lowest);
        turns ^= lowest;
        if ((word & lowest) === 0) {
          to[n++] = Math.min(widthPx - 1, x - 1 + byPx);
        } else if (n > first && x - byPx <= to[n - 1]! + 1) {
          n--;
        } else {
          from[n] = Math.max(0, x - byPx);
        }
      }
    }
    if (before === 1) to[n++] = widthPx - 1;
  }
  rowStart[heightPx] = n;
  return { rowStart, from: from.subarray(0, n), to: to.subarray(0, n) };
}

/** Each row joined with the `byPx` rows above and below it. */
function taller({ heightPx, wordsPerRow, words }: BitMask, byPx: number): Int32Array {
  const out = words.slice();
  for (let by = 1; by <= byPx; by++) {
    const shift = by * wordsPerRow;
    for (let i = shift; i < heightPx * wordsPerRow; i++) {
      out[i]! |= words[i - shift]!;
      out[i - shift]! |= words[i]!;
    }
  }
  return out;
}
