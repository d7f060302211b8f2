import type { CorrectedPlant } from '../../core/corrections/correctedPlant.ts';
import type { CorrectedResult } from '../../core/corrections/replay.ts';
import { formatLength, type LengthSystem } from '../../core/units/formatLength.ts';

/** One mark as both views draw it and the list says it. */
export interface Mark {
  readonly plant: CorrectedPlant;
  readonly shape: 'sure' | 'fairly' | 'weed' | 'unsure' | 'gone';
  /** Number along the row for counted plants, else null. */
  readonly number: number | null;
  /** What a person did, as a sign on the filled tag; null: as the machine left it. */
  readonly sign: string | null;
  /** Whose tag it is: `you`, or the first letters of a name. */
  readonly who: string | null;
  /** What the mark is, in words. */
  readonly says: string;
}

/** A machine mark at least this sure is drawn with a full ring. */
const SURE = 0.85;

const SIGNS = {
  confirmed: '✓',
  named: '✎',
  damaged: '!',
  added: '+',
  moved: '↔',
  split: '2',
  merged: '1',
  removed: '✕',
} as const;

const DONE = {
  confirmed: 'kept',
  named: 'named',
  damaged: 'looked at',
  added: 'added',
  moved: 'moved',
  split: 'split',
  merged: 'merged',
  removed: 'taken off',
} as const;

/** All marks in order along the row; those a person took off are last. */
export function marksOf(result: CorrectedResult, by: string, system: LengthSystem): readonly Mark[] {
  let number = 0;
  const here = result.plants.map((plant) => {
    const counted = plant.kind === 'plant' && plant.inStretch;
    if (counted) number++;
    return markOf(plant, counted ? number : null, false, by, system);
  });
  return [...here, ...result.removed.map((plant) => markOf(plant, null, true, by, system))];
}

function markOf(plant: CorrectedPlant, number: number | null, gone: boolean, by: string, system: LengthSystem): Mark {
  const { checked, kind, confidence } = plant;
  const who = checked === null ? null : checked.by === by ? 'you' : initials(checked.by);
  const shape = gone ? 'gone' : kind !== 'plant' ? kind : confidence >= SURE ? 'sure' : 'fairly';
  const what = gone
    ? 'Not a plant'
    : kind === 'plant'
      ? number === null
        ? 'Plant outside'
        : `Plant ${number}`
      : kind === 'weed'
        ? 'Weed'
        : 'Unsure';
  const sure = checked === null ? machineWords(plant) : `${DONE[checked.did]} by ${who}`;
  const says = [what, placeName(plant, system), sure, ...(plant.damaged ? ['hurt'] : [])]
    .filter((part) => part !== '')
    .join(', ');
  return { plant, shape, number, sign: checked === null ? null : SIGNS[checked.did], who, says };
}

/** What the machine thought, as a share that people can weigh. */
function machineWords({ kind, confidence, doubleChance }: CorrectedPlant): string {
  // Nothing a machine says is certain.
  const percent = (share: number) => `${Math.min(99, Math.max(1, Math.round(share * 100)))} %`;
  if (doubleChance >= 0.15) return `perhaps two plants (${percent(doubleChance)})`;
  if (kind === 'plant') return `machine: ${percent(confidence)} sure`;
  return confidence < 0.01 ? 'machine: no crop plant' : `machine: ${percent(confidence)} a crop plant`;
}

/** Where a mark lies, as the tape beside it reads. */
export function placeName({ alongM }: Pick<CorrectedPlant, 'alongM'>, system: LengthSystem): string {
  return alongM === null ? '' : formatLength(alongM, system);
}

export function initials(name: string): string {
  const letters = name.split(/[\s-]+/u).map((part) => part[0] ?? '');
  return letters.slice(0, 2).join('').toUpperCase();
}
