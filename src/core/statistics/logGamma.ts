const G = 607 / 128;
const COEFFICIENTS: readonly number[] = [
  0.9999999999999971, 57.15623566586292, -59.59796035547549, 14.136097974741746, -0.4919138160976202,
  3.399464998481189e-5, 4.652362892704858e-5, -9.837447530487956e-5, 0.0001580887032249125, -0.00021026444172410488,
  0.00021743961811521265, -0.0001643181065367639, 8.441822398385275e-5, -2.6190838401581408e-5, 3.6899182659531625e-6,
];
const HALF_LOG_TWO_PI = 0.9189385332046728;
/** From here on the Stirling series to x^-11 is exact to double precision. */
const STIRLING_FROM = 15;

/**
 * Natural logarithm of the gamma function for x > 0. Lanczos 1964 (SIAM J. Numer. Anal. B 1:86-96) with the
 * coefficients of P. Godfrey (2001); the Stirling series where x is large. Relative error below 1e-13, absolute near
 * its zeros at 1 and 2.
 */
export function logGamma(x: number): number {
  if (!(x > 0)) throw new RangeError(`log gamma is defined here for x above 0, got ${x}`);
  if (x >= STIRLING_FROM) return (x - 0.5) * Math.log(x) - x + HALF_LOG_TWO_PI + stirlingTail(x);
  let sum = COEFFICIENTS[0]!;
  for (let i = 1; i < COEFFICIENTS.length; i++) sum += COEFFICIENTS[i]! / (x + i - 1);
  const t = x + G - 0.5;
  return (x - 0.5) * Math.log(t) - t + HALF_LOG_TWO_PI + Math.log(sum);
}

/** log n! */
export function logFactorial(n: number): number {
  return logGamma(n + 1);
}

/** What Stirling's formula misses, from its series in Bernoulli numbers. */
function stirlingTail(x: number): number {
  const r = 1 / (x * x);
  return (1 / 12 - r * (1 / 360 - r * (1 / 1260 - r * (1 / 1680 - r * (1 / 1188 - (r * 691) / 360360))))) / x;
}
