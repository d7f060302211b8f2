import type { PhotoChange } from '../../core/corrections/correction.ts';
import type { Mark } from './marks.ts';

/** One button of the review bar. */
export interface Action {
  readonly wish: 'keep' | 'not a plant' | 'weed' | 'two plants' | 'hurt' | 'next';
  readonly key: string;
  readonly sign: string;
  readonly label: (mark: Mark | null) => string;
}

export const ACTIONS: readonly Action[] = [
  {
    wish: 'keep',
    key: 'K',
    sign: '✓',
    label: (mark) => (mark === null || mark.plant.kind === 'plant' ? 'Keep' : 'A plant'),
  },
  { wish: 'not a plant', key: 'X', sign: '✕', label: () => 'Not a plant' },
  { wish: 'weed', key: 'W', sign: '✲', label: () => 'Weed' },
  { wish: 'two plants', key: 'T', sign: '2', label: () => 'Two plants' },
  { wish: 'hurt', key: 'H', sign: '!', label: (mark) => (mark?.plant.damaged === true ? 'Not hurt' : 'Hurt') },
  { wish: 'next', key: 'N', sign: '→', label: () => 'Next' },
];

/** The change that a button asks for on this mark. */
export function changeFor(wish: Exclude<Action['wish'], 'next'>, { plant }: Mark): PhotoChange {
  const plantId = plant.id;
  switch (wish) {
    case 'keep':
      return plant.kind === 'plant' ? { kind: 'confirm plant', plantId } : { kind: 'name plant', plantId, as: 'plant' };
    case 'not a plant':
      return { kind: 'remove plant', plantId };
    case 'weed':
      return { kind: 'name plant', plantId, as: 'weed' };
    case 'two plants':
      return { kind: 'split plant', plantId };
    case 'hurt':
      return { kind: 'mark damaged', plantId, damaged: !plant.damaged };
  }
}

/** The nearest mark along the row that this one could be the same plant as; null where it is alone. */
export function nearestOther(marks: readonly Mark[], { plant }: Mark): Mark | null {
  const others = marks.filter(
    (mark) => mark.shape !== 'gone' && mark.plant.id !== plant.id && mark.plant.kind !== 'weed',
  );
  const away = (mark: Mark) => Math.hypot(mark.plant.xPx - plant.xPx, mark.plant.yPx - plant.yPx);
  return others.reduce<Mark | null>((best, mark) => (best === null || away(mark) < away(best) ? mark : best), null);
}
