import { DEFAULT_COUNT_OPTIONS } from '../core/count/countOptions.ts';
import { preparePhoto } from '../core/count/preparePhoto.ts';
import { findPlantsByColour } from '../core/plants/findPlantsByColour.ts';
import { practicePhoto } from './practicePhoto.ts';
import { quickLook } from './quickLook.ts';

const OPTIONS = { ...DEFAULT_COUNT_OPTIONS, reference: { kind: 'tape', graduations: 'in' } } as const;

/** Small ones first: code that runs for the first time is slow, and each picture is one step that nothing ends. */
export const PRACTICE_SIZES_PX = [
  [600, 240],
  [600, 240],
  [1200, 480],
] as const;

/**
 * Measures drawings of a row, so that code which takes a photo apart has run before a photo comes: a runtime makes it
 * faster as it runs. What it finds is of no use, and is dropped; answers how many plants each had along its tape, for a
 * check.
 *
 * @param rest is waited for between any two steps, so that whoever runs this hears of what comes meanwhile.
 */
export async function practise(nowMs: () => number, rest: () => Promise<void>): Promise<readonly number[]> {
  const plants: number[] = [];
  for (const [widthPx, heightPx] of PRACTICE_SIZES_PX) {
    const photo = practicePhoto(widthPx, heightPx);
    await rest();
    const ready = preparePhoto(photo, OPTIONS, nowMs);
    await rest();
    quickLook(ready, nowMs);
    const { detections } = findPlantsByColour(ready.strip, ready.search);
    plants.push('found' in ready.ground ? detections.length : 0);
    await rest();
  }
  return plants;
}
