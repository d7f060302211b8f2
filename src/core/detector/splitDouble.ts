import type { Detection } from '../plants/detection.ts';

/**
 * From this chance on a mark is counted as two plants. On 37 rendered scenes (20 pairs 10 to 22 mm apart, 523 singles)
 * 11 pairs are then counted as two and 4 singles split; the second plant is as likely there as not.
 */
const SPLIT_FROM = 0.22;
const SECOND_CONFIDENCE = 0.5;
/** Half the usual distance of two plants that look like one, millimetres. */
const HALF_APART_MM = 7.5;

/** One mark as two plants beside each other along the row, where a double is likely enough; else as it is. */
export function splitDouble(mark: Detection, mmPerPx: number): readonly Detection[] {
  if (mark.kind !== 'plant' || mark.doubleChance < SPLIT_FROM) return [mark];
  const [x, y] = mark.baseStripPx;
  const half = HALF_APART_MM / mmPerPx;
  const alongSdMm = Math.max(mark.alongSdMm, HALF_APART_MM);
  const one: Detection = { ...mark, baseStripPx: [x - half, y], doubleChance: 0, alongSdMm };
  return [one, { ...one, baseStripPx: [x + half, y], confidence: Math.min(mark.confidence, SECOND_CONFIDENCE) }];
}
