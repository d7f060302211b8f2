/** Words between two numbers, where a line may end. */
const BETWEEN = 'to|at|of|and|or|by|from';
const GAP = new RegExp(`(\\d|±) (?!(?:${BETWEEN})\\b)(?=\\S)`, 'g');

/** Text for the page in which no line ends between a number and its unit. */
export function unbroken(text: string): string {
  return text.replace(GAP, '$1\u00a0');
}
