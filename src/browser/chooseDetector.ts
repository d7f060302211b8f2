import type { CountTools } from '../core/count/countPhoto.ts';
import { findPlantsByColour } from '../core/plants/findPlantsByColour.ts';

/** The detector to use here. */
export async function chooseDetector(_model: string): Promise<Pick<CountTools, 'detector' | 'findPlants'>> {
  return { detector: { name: 'none', version: '1' }, findPlants: findPlantsByColour };
}
