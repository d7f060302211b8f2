import { logGamma } from './logGamma.ts';

const EPSILON = 1e-16;
const TINY = 1e-300;
const MOST_STEPS = 100_000;

/**
 * Regularised incomplete beta I_x(a, b): the chance that a beta variable is at most x. Continued fraction of
 * Abramowitz & Stegun 26.5.8 by the modified Lentz method, on the side where it converges fast.
 *
 * @param oneMinusX 1 - x where the caller knows it better than by subtraction (far tails).
 */
export function incompleteBeta(x: number, a: number, b: number, oneMinusX: number = 1 - x): number {
  if (!(a > 0) || !(b > 0)) throw new RangeError(`wanted a and b above 0, got a ${a}, b ${b}`);
  if (!(x >= 0 && x <= 1)) throw new RangeError(`wanted x from 0 to 1, got ${x}`);
  if (x === 0) return 0;
  if (oneMinusX === 0) return 1;
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log(oneMinusX));
  return x < (a + 1) / (a + b + 2) ? (front * fraction(x, a, b)) / a : 1 - (front * fraction(oneMinusX, b, a)) / b;
}

function fraction(x: number, a: number, b: number): number {
  let c = 1;
  let d = 1 - ((a + b) * x) / (a + 1);
  if (Math.abs(d) < TINY) d = TINY;
  d = 1 / d;
  let h = d;
  for (let m = 1; m < MOST_STEPS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    let step = 1;
    for (const term of [even, odd]) {
      d = 1 + term * d;
      if (Math.abs(d) < TINY) d = TINY;
      c = 1 + term / c;
      if (Math.abs(c) < TINY) c = TINY;
      d = 1 / d;
      step = d * c;
      h *= step;
    }
    if (Math.abs(step - 1) < EPSILON) break;
  }
  return h;
}
