const MOST_STEPS = 200;

/**
 * Where an increasing or decreasing function crosses 0 between two points of different sign: bisection sped up by the
 * Illinois variant of false position (Dowell & Jarratt 1971, BIT 11:168-174). Throws RangeError where the signs agree.
 *
 * @param tolerance largest width of the bracket left, relative to the root's size.
 */
export function findRoot(f: (x: number) => number, from: number, to: number, tolerance = 1e-14): number {
  let [a, b] = [from, to];
  let [fa, fb] = [f(a), f(b)];
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (!(fa * fb < 0)) throw new RangeError(`no change of sign between ${from} (${fa}) and ${to} (${fb})`);
  for (let i = 0; i < MOST_STEPS && Math.abs(b - a) > tolerance * Math.max(Math.abs(a), Math.abs(b)); i++) {
    const guess = (a * fb - b * fa) / (fb - fa);
    // every third step halves, so that a flat tail cannot stall it
    const x = i % 3 === 2 || !(guess > Math.min(a, b) && guess < Math.max(a, b)) ? (a + b) / 2 : guess;
    const fx = f(x);
    if (fx === 0 || x === a || x === b) return x;
    if (fx * fb < 0) [a, fa] = [b, fb];
    else fa /= 2;
    [b, fb] = [x, fx];
  }
  return b;
}
