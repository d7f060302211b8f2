import type { CountTools } from '../../core/count/countPhoto.ts';
import { cannot, good, type Outcome } from '../../core/faults/outcome.ts';
import { findPlantsByColour } from '../../core/plants/findPlantsByColour.ts';

const COLOUR = { detector: { name: 'none', version: '1' }, findPlants: findPlantsByColour } as const;

/** The detector a person named: `none` is colour alone, `auto` the best there is. */
export async function chooseDetector(name: string): Promise<Outcome<Pick<CountTools, 'detector' | 'findPlants'>>> {
  if (name === 'none' || name === 'auto') return good(COLOUR);
  return cannot('usage', `there is no model "${name}"`, 'none, auto', 'Leave --model out.');
}
