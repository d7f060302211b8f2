import type { Source } from '../sources/source.ts';
import type { SignId } from './signs.ts';

/** How much a sign speaks for a cause: it nearly proves it, it usually goes with it, or it merely fits. */
export type SignStrength = 'telling' | 'usual' | 'fits';

export interface CauseSign {
  readonly sign: SignId;
  readonly strength: SignStrength;
  /** Common field knowledge that was not read in a source; counts half. */
  readonly fromMemory?: true;
}

export interface Cause {
  readonly id: string;
  readonly name: string;
  readonly signs: readonly CauseSign[];
  readonly source: Source;
  /** What to change next year; null where nothing much can be. */
  readonly nextYear: string | null;
}

export function telling(sign: SignId): CauseSign {
  return { sign, strength: 'telling' };
}
export function usual(sign: SignId): CauseSign {
  return { sign, strength: 'usual' };
}
export function fits(sign: SignId): CauseSign {
  return { sign, strength: 'fits' };
}
export function remembered(sign: SignId, strength: SignStrength = 'usual'): CauseSign {
  return { sign, strength, fromMemory: true };
}
