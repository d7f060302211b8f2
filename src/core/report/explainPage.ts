import { formatSource } from '../sources/source.ts';
import type { Assessment } from '../visit/assessment.ts';

/** Every rule, table row and threshold behind the verdict with its source, as plain text grouped by topic. */
export function explainPage(assessment: Assessment): string {
  const topics = [...new Set(assessment.explained.map((entry) => entry.topic))];
  return topics
    .map((topic) => {
      const entries = assessment.explained.filter((entry) => entry.topic === topic);
      return `${topic}\n${entries.map((entry) => `- ${entry.says}\n    ${formatSource(entry.source)}`).join('\n')}\n`;
    })
    .join('\n');
}
