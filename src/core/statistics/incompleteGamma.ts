import { logGamma } from './logGamma.ts';

const EPSILON = 1e-16;
const TINY = 1e-300;
const MOST_STEPS = 100_000;

/**
 * Regularised lower incomplete gamma P(a, x): the chance that a gamma variable of shape a is at most x. Series below
 * a + 1, continued fraction above (Abramowitz & Stegun 6.5.29 and 6.5.31; modified Lentz).
 */
export function lowerGamma(a: number, x: number): number {
  check(a, x);
  if (x === 0) return 0;
  return x < a + 1 ? series(a, x) : 1 - fraction(a, x);
}

/** Regularised upper incomplete gamma Q(a, x) = 1 - P(a, x), exact in the far tail. */
export function upperGamma(a: number, x: number): number {
  check(a, x);
  if (x === 0) return 1;
  return x < a + 1 ? 1 - series(a, x) : fraction(a, x);
}

function check(a: number, x: number): void {
  if (!(a > 0) || !(x >= 0)) throw new RangeError(`wanted a above 0 and x from 0 on, got a ${a}, x ${x}`);
}

function front(a: number, x: number): number {
  return Math.exp(a * Math.log(x) - x - logGamma(a));
}

function series(a: number, x: number): number {
  let term = 1 / a;
  let sum = term;
  for (let n = 1; n < MOST_STEPS && Math.abs(term) > Math.abs(sum) * EPSILON; n++) {
    term *= x / (a + n);
    sum += term;
  }
  return sum * front(a, x);
}

function fraction(a: number, x: number): number {
  if (x === Number.POSITIVE_INFINITY) return 0;
  let b = x + 1 - a;
  let c = 1 / TINY;
  let d = 1 / b;
  let h = d;
  for (let i = 1; i < MOST_STEPS; i++) {
    const an = -i * (i - a);
    b += 2;
    d = an * d + b;
    if (Math.abs(d) < TINY) d = TINY;
    c = b + an / c;
    if (Math.abs(c) < TINY) c = TINY;
    d = 1 / d;
    const step = d * c;
    h *= step;
    if (Math.abs(step - 1) < EPSILON) break;
  }
  return h * front(a, x);
}
