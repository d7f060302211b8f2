import type { Random } from './seededRandom.ts';

/** A standard normal number: polar method (Marsaglia & Bray 1964, SIAM Review 6:260-264); its second number is let go. */
export function drawNormal(random: Random): number {
  for (;;) {
    const u = 2 * random() - 1;
    const v = 2 * random() - 1;
    const s = u * u + v * v;
    if (s > 0 && s < 1) return u * Math.sqrt((-2 * Math.log(s)) / s);
  }
}

/** A gamma number of the given shape and scale 1 (Marsaglia & Tsang 2000, ACM Trans. Math. Softw. 26:363-372). */
export function drawGamma(shape: number, random: Random): number {
  if (!(shape > 0)) throw new RangeError(`a shape is above 0, got ${shape}`);
  if (shape < 1) return drawGamma(shape + 1, random) * (1 - random()) ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const z = drawNormal(random);
    const v = (1 + c * z) ** 3;
    if (v > 0 && Math.log(1 - random()) < (z * z) / 2 + d - d * v + d * Math.log(v)) return d * v;
  }
}

/** A Poisson count. Large means are halved by way of a gamma number (Ahrens & Dieter 1974, Computing 12:223-246). */
export function drawPoisson(mean: number, random: Random): number {
  if (!(mean >= 0)) throw new RangeError(`a mean is from 0 on, got ${mean}`);
  if (mean > 30) {
    const m = Math.floor((mean * 7) / 8);
    const x = drawGamma(m, random);
    return x <= mean ? m + drawPoisson(mean - x, random) : drawBinomial(m - 1, mean / x, random);
  }
  const limit = Math.exp(-mean);
  let count = 0;
  for (let product = random(); product > limit; product *= random()) count++;
  return count;
}

/** A binomial count, try by try. */
export function drawBinomial(n: number, p: number, random: Random): number {
  let count = 0;
  for (let i = 0; i < n; i++) if (random() < p) count++;
  return count;
}

/** A negative binomial count of mean and clumping k (variance mean + mean^2 / k): Poisson with a gamma mean. */
export function drawNegativeBinomial(mean: number, k: number, random: Random): number {
  return drawPoisson((mean * drawGamma(k, random)) / k, random);
}
