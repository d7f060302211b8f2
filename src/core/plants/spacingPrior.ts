import { square } from '../statistics/square.ts';

/** Usual distance between plants in the row, and its spread as a natural logarithm, when the sowing is not known. */
const USUAL_MM = 85;
const USUAL_LOG_SD = 0.45;
/** With a known seed spacing: some seeds give no plant, so plants stand a little wider. */
const PLANTS_PER_SEED = 0.87;
const KNOWN_LOG_SD = 0.17;
/** A longer bare run is a gap, and says nothing about the distance elsewhere. */
const GAP_MM = 200;

/**
 * Log-prior of a number of plants among leaves at these places along the row: the mean distance it implies is about
 * log-normal around the usual one (dry beans are sown at 5 to 15 cm), or around the known seed spacing.
 */
export function spacingPrior(alongMm: readonly number[], seedSpacingM: number | null): (plants: number) => number {
  const sorted = [...alongMm].sort((a, b) => a - b);
  let setMm = 50;
  for (let k = 1; k < sorted.length; k++) setMm += Math.min(GAP_MM, sorted[k]! - sorted[k - 1]!);
  const usualMm = seedSpacingM === null ? USUAL_MM : (seedSpacingM * 1000) / PLANTS_PER_SEED;
  const logSd = seedSpacingM === null ? USUAL_LOG_SD : KNOWN_LOG_SD;
  return (plants) => -0.5 * square(Math.log(setMm / Math.max(1, plants) / usualMm) / logSd);
}
