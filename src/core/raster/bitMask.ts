/** A yes/no picture, 32 pixels a word, lowest bit first; each row begins with a new word. */
export interface BitMask {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly wordsPerRow: number;
  readonly words: Int32Array;
}

export function makeBitMask(widthPx: number, heightPx: number): BitMask {
  const wordsPerRow = (widthPx + 31) >> 5;
  return { widthPx, heightPx, wordsPerRow, words: new Int32Array(wordsPerRow * heightPx) };
}
