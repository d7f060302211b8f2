/**
 * Length of a vector of two to four coordinates. A root of a sum of squares is rounded alike by every engine (IEEE 754
 * fixes both operations), where Math.hypot is left to each engine and several times slower; so the same photo gives the
 * same places in Node and in a browser.
 */
export function norm(x: number, y: number, z = 0, w = 0): number {
  return Math.sqrt(x * x + y * y + z * z + w * w);
}
