import type { Assessment } from '../visit/assessment.ts';
import { verdictNumbers, verdictPlace } from './verdictNumbers.ts';
import { verdictSections } from './verdictSections.ts';
import { verdictBecause, verdictTitle } from './verdictTitle.ts';

/** The verdict as plain text for a terminal or a message: verdict, numbers, reasons, cautions. Ends with a line break. */
export function verdictPage(assessment: Assessment): string {
  const numbers = verdictNumbers(assessment);
  const width = Math.max(...numbers.map((line) => line.value.length), 0);
  return `${[
    verdictTitle(assessment.decision.verdict).toUpperCase(),
    verdictBecause(assessment.decision),
    verdictPlace(assessment),
    '',
    ...numbers.map((line) => `${line.value.padStart(width)}  ${line.what}`),
    ...verdictSections(assessment).flatMap((section) => [
      '',
      section.title,
      ...section.lines.map((line, i) => `${section.numbered ? `${i + 1}.` : '-'} ${line}`),
    ]),
  ].join('\n')}\n`;
}
