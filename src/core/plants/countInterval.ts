import type { Detection } from './detection.ts';

/** The number of emerged crop plants with its doubt. */
export interface CountInterval {
  /** Detections of kind "plant". */
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly level: number;
  readonly method: string;
}

/**
 * Calibration, measured on rendered scenes (scripts/plants-check.ts prints the coverage): plants that leave no mark at
 * all, as a number and as a share of those that a person vouches for; and the error that all marks of one photo share
 * (stage, light, a scale of plant guessed a little wrong), as a share of the count. The chances of the marks themselves
 * sum to 6 to 8 % more plants than stand there, so none are added for what they overlook. (64 scenes with true planes:
 * bounds at 90 % held the number in 62; with 2 % added for overlooked plants in 59, all others below the bounds.)
 */
const UNSEEN = 0.1;
const UNSEEN_SHARE = 0.02;
const COMMON_ERROR_SHARE = 0.1;

/**
 * Bounds for the true number of plants. Each mark holds 0, 1 or 2 plants by its own chances (a Poisson-binomial count
 * with doubles, summed exactly); plants without a mark come as a Poisson number; the error common to one photo
 * stretches the whole distribution. `low` and `high` are its quantiles, widened to hold `value`.
 *
 * @param level share of photos in which the bounds are to hold the true number, between 0 and 1, e.g. 0.9.
 * @param checked plants beside these marks that a person vouches for: counted without doubt, and outside the error
 * common to the machine's marks. Plants without a mark are still expected among them.
 * Throws RangeError for a level outside (0, 1).
 */
export function countInterval(
  detections: readonly Pick<Detection, 'kind' | 'confidence' | 'doubleChance'>[],
  level: number,
  checked = 0,
): CountInterval {
  if (!(level > 0 && level < 1)) throw new RangeError(`a level lies between 0 and 1, got ${level}`);
  let chances: number[] = [1];
  for (const { confidence, doubleChance } of detections) {
    const two = Math.min(doubleChance, 1);
    const one = Math.min(confidence, 1 - two);
    chances = convolve(chances, [1 - one - two, one, two]);
  }
  chances = convolve(chances, poisson(UNSEEN + UNSEEN_SHARE * checked));
  chances = stretched(chances, COMMON_ERROR_SHARE);
  const value = checked + detections.filter((d) => d.kind === 'plant').length;
  return {
    value,
    low: Math.min(value, checked + quantile(chances, (1 - level) / 2)),
    high: Math.max(value, checked + quantile(chances, 1 - (1 - level) / 2)),
    level,
    method: 'Poisson-binomial of the marks with doubles, unseen plants and an error common to the photo',
  };
}

function convolve(a: readonly number[], b: readonly number[]): number[] {
  const out = new Array<number>(a.length + b.length - 1).fill(0);
  for (let i = 0; i < a.length; i++) for (let j = 0; j < b.length; j++) out[i + j]! += a[i]! * b[j]!;
  return out;
}

function poisson(mean: number): number[] {
  const out = [Math.exp(-mean)];
  for (let k = 1; k < mean + 6 * Math.sqrt(mean) + 6; k++) out.push((out[k - 1]! * mean) / k);
  return out;
}

/** The distribution of n times a normal factor around 1, in nine equally likely steps. */
function stretched(chances: readonly number[], sd: number): number[] {
  const out = new Array<number>(Math.ceil(chances.length * (1 + 2 * sd)) + 1).fill(0);
  // mid-quantiles of the standard normal at 1/18, 3/18 ... 17/18
  for (const z of [-1.593, -0.967, -0.589, -0.282, 0, 0.282, 0.589, 0.967, 1.593]) {
    for (let n = 0; n < chances.length; n++) {
      const at = n * (1 + z * sd);
      const floor = Math.floor(at);
      out[floor]! += (chances[n]! / 9) * (1 - (at - floor));
      if (at > floor) out[floor + 1]! += (chances[n]! / 9) * (at - floor);
    }
  }
  return out;
}

function quantile(chances: readonly number[], share: number): number {
  let sum = 0;
  for (let n = 0; n < chances.length; n++) {
    sum += chances[n]!;
    if (sum >= share - 1e-12) return n;
  }
  return chances.length - 1;
}
