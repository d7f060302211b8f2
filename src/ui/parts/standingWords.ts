import type { FiledVerdict, Standing } from '../edits/standingsHere.ts';

/** What a visit can be filed under, with its words. */
export const VERDICTS = [
  ['keep', 'Keep'],
  ['wait', 'Wait'],
  ['cost replant', 'Cost a replant'],
  ['too few spots', 'Too few spots'],
  ['none', 'Not assessed'],
] as const;

const LABELS: ReadonlyMap<FiledVerdict, string> = new Map(VERDICTS);

/** The verdict in a word or three; empty while it is not worked out. */
export function verdictWord(standing: Standing | null): string {
  return standing === null ? '' : (LABELS.get(standing.verdict) ?? '');
}

/** How the stand compares with its target, what comes next, and what was decided; empty while it is not worked out. */
export function standingWords(standing: Standing | null): string {
  if (standing === null) return '';
  const { plants, ofTarget, next, decided } = standing;
  const settled = decided === 'keep' || decided === 'replant';
  return [
    ...(ofTarget === null ? [] : [`${Math.round(100 * ofTarget)} % of target`]),
    ...(plants === null ? [] : [plants]),
    ...(next === null || settled ? [] : [next]),
    ...(decided === null ? [] : [`decided: ${decided}`]),
  ].join(', ');
}
