/** Returns the next number, from 0 up to but not including 1. */
export type Random = () => number;

/**
 * A generator of uniform numbers from a seed: xoshiro128** (Blackman & Vigna 2021, ACM Trans. Math. Softw. 47:36), its
 * four words filled from the seed by SplitMix32. The same seed gives the same numbers on every machine. 53 bits to a
 * number, from two words.
 */
export function seededRandom(seed: number): Random {
  if (!Number.isInteger(seed)) throw new RangeError(`a seed is a whole number, got ${seed}`);
  const fill = splitMix32((seed >>> 0) ^ Math.floor(seed / 2 ** 32));
  const next = xoshiro128([fill(), fill(), fill(), fill()]);
  return () => ((next() >>> 5) * 67_108_864 + (next() >>> 6)) / 9_007_199_254_740_992;
}

/** The bare generator over 32-bit words; the words of the state must not all be 0. */
export function xoshiro128(state: readonly [number, number, number, number]): () => number {
  let [a, b, c, d] = state;
  return () => {
    const result = Math.imul(rotate(Math.imul(b, 5), 7), 9) >>> 0;
    const shifted = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= shifted;
    d = rotate(d, 11);
    return result;
  };
}

function rotate(word: number, by: number): number {
  return (word << by) | (word >>> (32 - by));
}

function splitMix32(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x9e3779b9) | 0;
    let z = state ^ (state >>> 16);
    z = Math.imul(z, 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    return (z ^ (z >>> 15)) >>> 0;
  };
}
