import type { PlantKind } from '../plants/detection.ts';
import type { MarkCall } from './example.ts';
import type { Head } from './head.ts';
import { headChances } from './headChances.ts';

/** From this chance of a crop plant on (one or more) a mark counts; below the second it is called a weed. */
const PLANT_FROM = 0.5;
const UNSURE_FROM = 0.3;

/**
 * The marks as a head sees them: kind, confidence and chance of a double anew, all else (names, places, sizes) as the
 * stock detector left it. The marks given are left alone. Throws RangeError where features are missing.
 *
 * @param features one list for each mark, as the head's `featureNames`.
 */
export function applyHead<T extends MarkCall>(
  head: Head,
  detections: readonly T[],
  features: readonly (readonly number[])[],
): readonly T[] {
  if (features.length !== detections.length) {
    throw new RangeError(`${detections.length} marks need as many lists of features, got ${features.length}`);
  }
  return detections.map((d, k) => {
    const { plant, double } = headChances(head, d, features[k]!);
    return { ...d, kind: kindOf(plant + double), confidence: plant, doubleChance: double };
  });
}

function kindOf(crop: number): PlantKind {
  return crop >= PLANT_FROM ? 'plant' : crop >= UNSURE_FROM ? 'unsure' : 'weed';
}
