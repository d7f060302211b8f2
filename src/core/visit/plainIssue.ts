import type * as z from 'zod/mini';

/** One schema issue in plain words: what was found, what was wanted. Issues with words of their own keep them. */
export function plainIssue(issue: z.core.$ZodRawIssue): string | undefined {
  const found = show(issue.input);
  switch (issue.code) {
    case 'invalid_type':
      return issue.input === undefined
        ? `missing, wanted ${kind(issue.expected)}`
        : `found ${found}, wanted ${kind(issue.expected)}`;
    case 'invalid_value':
      return `${issue.input === undefined ? 'missing' : `found ${found}`}, wanted ${issue.values.map(show).join(', ')}`;
    case 'too_small':
      return issue.origin === 'array' || issue.origin === 'string'
        ? `found ${found}, wanted at least ${issue.minimum} ${issue.origin === 'array' ? 'of them' : 'letters'}`
        : `found ${found}, wanted ${issue.minimum} or more`;
    case 'too_big':
      return issue.origin === 'array' || issue.origin === 'string'
        ? `found too many, wanted at most ${issue.maximum} ${issue.origin === 'array' ? 'of them' : 'letters'}`
        : `found ${found}, wanted ${issue.maximum} or less`;
    case 'invalid_format':
      return `found ${found}, wanted ${issue.format === 'datetime' ? 'a moment as 2026-06-18T09:30:00Z' : `the form "${issue.format}"`}`;
    case 'unrecognized_keys':
      return `does not know ${issue.keys.map(show).join(', ')}; check the spelling`;
    case 'invalid_union':
      return `found a kind that is not known, wanted one of the kinds of the schema`;
    default:
      return undefined;
  }
}

function kind(expected: string): string {
  const names: Readonly<Record<string, string>> = {
    string: 'text',
    int: 'a whole number',
    number: 'a number',
    boolean: 'true or false',
    array: 'a list',
    object: 'a record',
    tuple: 'a pair',
  };
  return names[expected] ?? expected;
}

function show(value: unknown): string {
  const text = JSON.stringify(value) ?? String(value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}
