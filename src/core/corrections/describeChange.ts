import { formatLength, type LengthSystem } from '../units/formatLength.ts';
import type { Deed } from './standingChanges.ts';

/**
 * A deed in a few words, for undo, redo and the history: what was done to which mark.
 *
 * @param markName how a mark is called on the screen, such as its number.
 */
export function describeChange(
  { change }: Pick<Deed, 'change'>,
  system: LengthSystem,
  markName: (plantId: string) => string,
): string {
  switch (change.kind) {
    case 'confirm plant':
      return `keep ${markName(change.plantId)}`;
    case 'remove plant':
      return `take off ${markName(change.plantId)}`;
    case 'name plant':
      return `call ${markName(change.plantId)} ${{ plant: 'a plant', weed: 'a weed', unsure: 'unsure' }[change.as]}`;
    case 'mark damaged':
      return `${markName(change.plantId)} ${change.damaged ? 'is hurt' : 'is not hurt'}`;
    case 'add plant':
      return `add ${markName(change.plantId)}`;
    case 'move plant':
      return `move ${markName(change.plantId)}`;
    case 'split plant':
      return `${markName(change.plantId)} is two plants`;
    case 'merge plants':
      return `${markName(change.plantId)} and ${markName(change.otherId)} are one`;
    case 'move reading':
      return `place the ${formatLength(change.readingM, system)} reading`;
    case 'set row plants':
      return `row ${change.row + 1}: ${change.plants} plants by hand`;
    case 'set plants':
      return `${change.plants} plants by hand`;
    case 'leave out':
      return 'leave this count out';
  }
}
