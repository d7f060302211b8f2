import type { Decision, Verdict } from '../decision/verdict.ts';
import { formatDay } from '../outlook/calendar.ts';

/** The verdict as its page is headed. */
export function verdictTitle(verdict: Verdict): string {
  switch (verdict.kind) {
    case 'keep':
      return 'Keep the stand';
    case 'wait':
      return `Wait and recount by ${formatDay(verdict.recountBy)}`;
    case 'cost replant':
      return verdict.scope === 'zones'
        ? `Cost out a replant of ${joined(verdict.zones)}`
        : 'Cost out a replant of the whole field';
    case 'too few spots':
      return verdict.moreSpots < 1 ? 'Too few spots to say' : `Too few spots to say: count ${verdict.moreSpots} more`;
  }
}

function joined(names: readonly string[]): string {
  if (names.length < 2) return names.join('');
  return `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}

/** Why, as one sentence. */
export function verdictBecause(decision: Decision): string {
  return `${decision.because.charAt(0).toUpperCase()}${decision.because.slice(1)}.`;
}
