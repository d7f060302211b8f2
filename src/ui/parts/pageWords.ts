import type { Cannot } from '../../core/faults/outcome.ts';
import { inOneLine } from '../../core/faults/outcome.ts';
import type { Said, SaidValues } from '../../core/faults/said.ts';

const NO_MARKS_SCALE = 'The hand marks give no scale:';
const LEARN_ANEW = 'Use the stock detector, or learn anew from the corrections.';
/** A mark by its reading; those of early versions come without. */
const markOf = ({ readingM }: SaidValues) =>
  typeof readingM === 'number' ? `mark at ${readingM.toFixed(3)} m` : 'mark';

/**
 * What the engine says in words for a command line, or by ids, as the page says it: by its name, not by its wording. All
 * else is said as it comes.
 */
const WORDS: Readonly<Record<string, (values: SaidValues) => string>> = {
  'no-row-width': () => 'population: cannot tell, because the row width is not given',
  'mark-outside-photo': (values) => `${NO_MARKS_SCALE} the ${markOf(values)} lies outside the photo.`,
  'too-few-marks': () => `${NO_MARKS_SCALE} hand marks need two different readings at two places.`,
  'mark-left-out': (values) =>
    `The ${markOf(values)} does not fit the others and was left out: check its place and reading.`,
  'marks-disagree': () => 'The marks do not fit one straight scale: check their places, readings and units.',
  'tape-ends-hidden': ({ lengthM }) =>
    `a strip like a tape is in the photo, but not both of its ends, so its whole length of ${Number(lengthM).toFixed(2)} m does not give the scale: show both ends, or name the graduations`,
  'unclear-tape': () =>
    'a long straight strip with some even pattern is in the photo, but it is not clearly a tape; say what it is, or mark two readings by hand',
  'no-cards-no-tape': ({ cards, tape, tapeCode }) =>
    `Looked for marker cards and for a graduated tape. Cards: ${cards} Tape: ${pageWords({ code: String(tapeCode), message: String(tape) })}. A rod, a frame or a tape of known length needs to be named with its size.`,
  'head-left-out': ({ why }) =>
    `Counted without what was learned on this farm: it ${why === 'other features' ? 'reads features that this version does not make' : 'was learned with another detector'}. Learn anew.`,
  'altered head': () => `What was learned here was altered after it was learned. ${LEARN_ANEW}`,
  'missing head': () => `What was learned here and put into use is not there. ${LEARN_ANEW}`,
};

/** The codes that the page says in words of its own. */
export const PAGE_CODES: readonly string[] = Object.keys(WORDS);

/** What the engine says, in this page's words. */
export function pageWords({ code, message, values = {} }: Said): string {
  return WORDS[code]?.(values) ?? message;
}

/** A refusal in one line, in this page's words. */
export function pageRefusal(refusal: Cannot): string {
  return WORDS[refusal.code]?.({}) ?? inOneLine(refusal);
}
