import type { LengthSystem } from '../units/formatLength.ts';
import { countLines } from './countLines.ts';
import type { CountResult } from './countResult.ts';

const BEFORE = { answer: '', reason: 'no scale: ', warning: '! ' } as const;

/** The answer in a few lines, numbers first. The first line is the headline. */
export function countText(result: CountResult, system: LengthSystem): string[] {
  return countLines(result, system).map(({ tells, message }) => `${BEFORE[tells]}${message}`);
}
