import { cannot, good, type Outcome } from '../faults/outcome.ts';
import { chiSquareUpper } from '../statistics/chiSquare.ts';
import { describe } from '../statistics/describe.ts';

/** How much the stand differs from spot to spot, and how much of that is more than chance. */
export interface Evenness {
  readonly n: number;
  /** CV of the spots as counted. */
  readonly cv: number;
  /** CV that chance alone would give for counts of this size. */
  readonly cvByChance: number;
  /** CV of the field itself, chance taken out; 0 where the spots differ no more than by chance. */
  readonly cvBeyondChance: number;
  /** Chance of spots differing this much in a field that is the same all over. */
  readonly p: number;
  readonly even: boolean;
}

/**
 * Evenness over the field from plants and counted ground at each spot: heterogeneity chi-square of Poisson counts with
 * their own expected numbers (Cochran 1954, Biometrics 10:417-451), and the CV beyond chance by moments. Drilled plants
 * fall a little more evenly than Poisson, so an uneven field is, if anything, called even.
 */
export function evenness(
  spots: ReadonlyArray<{ readonly plants: number; readonly areaM2: number }>,
  significance: number,
): Outcome<Evenness> {
  const n = spots.length;
  if (n < 2) return cannot('too few spots', `${n} spots`, 'two spots or more', 'Count more spots.');
  const plants = spots.reduce((sum, spot) => sum + spot.plants, 0);
  if (plants === 0) return cannot('no plants', 'no plant at any spot', 'plants at some spots', 'Count elsewhere.');
  const areaM2 = spots.reduce((sum, spot) => sum + spot.areaM2, 0);
  const overall = plants / areaM2;
  const chiSquare = spots.reduce((sum, spot) => {
    const expected = overall * spot.areaM2;
    return sum + (spot.plants - expected) ** 2 / expected;
  }, 0);
  const { mean, variance } = describe(spots.map((spot) => spot.plants / spot.areaM2));
  const byChance = spots.reduce((sum, spot) => sum + overall / spot.areaM2, 0) / n;
  const p = chiSquareUpper(chiSquare, n - 1);
  return good({
    n,
    cv: Math.sqrt(variance!) / mean!,
    cvByChance: Math.sqrt(byChance) / mean!,
    cvBeyondChance: Math.sqrt(Math.max(0, variance! - byChance)) / mean!,
    p,
    even: p >= significance,
  });
}
