import { formatLength, type LengthSystem } from '../units/formatLength.ts';
import type { Deed } from './standingChanges.ts';

/**
 * A deed in a few words, for undo, redo and the history: what was done, and where.
 *
 * @param placeOf how a mark's place is told, such as `3 ft 4 in`; empty where no scale is known.
 */
export function describeChange(
  { change }: Pick<Deed, 'change'>,
  system: LengthSystem,
  placeOf: (plantId: string) => string,
): string {
  const at = (what: string, plantId: string) => {
    const place = placeOf(plantId);
    return place === '' ? what : `${what} at ${place}`;
  };
  switch (change.kind) {
    case 'confirm plant':
      return at('keep', change.plantId);
    case 'remove plant':
      return at('not a plant', change.plantId);
    case 'name plant':
      return at(change.as, change.plantId);
    case 'mark damaged':
      return at(change.damaged ? 'hurt' : 'not hurt', change.plantId);
    case 'add plant':
      return at('add', change.plantId);
    case 'move plant':
      return at('move', change.plantId);
    case 'split plant':
      return at('two plants', change.plantId);
    case 'merge plants':
      return at('one plant', change.plantId);
    case 'move reading':
      return `place the ${formatLength(change.readingM, system)} reading`;
    case 'check photo':
      return 'every mark looked at';
    case 'set row plants':
      return `row ${change.row + 1}: ${change.plants} plants by hand`;
    case 'set plants':
      return `${change.plants} plants by hand`;
    case 'leave out':
      return 'leave this count out';
  }
}
