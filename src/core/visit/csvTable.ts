import Papa from 'papaparse';
import type { Outcome } from '../faults/outcome.ts';
import { cannot, good } from '../faults/outcome.ts';

/** A table with named columns: names in lower case with `_` for spaces, cells trimmed, empty cells absent. */
export interface CsvTable {
  readonly columns: readonly string[];
  readonly rows: readonly { readonly line: number; readonly cells: Readonly<Record<string, string>> }[];
}

const MOST_ROWS = 100_000;

/**
 * Text of a table with its names in the first line. Commas, semicolons or tabs part cells (RFC 4180 quoting). Refuses
 * unknown columns by name, so that a misspelt one is not quietly left out.
 */
export function readCsvTable(text: string, known: readonly string[], needed: readonly string[]): Outcome<CsvTable> {
  const parsed = Papa.parse<string[]>(text.replace(/^﻿/, '').trimEnd(), { skipEmptyLines: false });
  const [head, ...body] = parsed.data;
  if (head === undefined || text.trim() === '') {
    return cannot('empty table', 'an empty table', `columns ${needed.join(', ')}`, 'Choose the file with the counts.');
  }
  const broken = parsed.errors.find((error) => error.type === 'Quotes');
  if (broken !== undefined) {
    return cannot(
      'broken table',
      `line ${(broken.row ?? 0) + 1}: ${broken.message}`,
      'quotes that close',
      'Save it as CSV again.',
    );
  }
  const columns = head.map((name) => name.trim().toLowerCase().replace(/\s+/g, '_'));
  const strange = columns.filter((name) => name !== '' && !known.includes(name));
  const missing = needed.filter((name) => !columns.includes(name));
  if (strange.length > 0 || missing.length > 0) {
    const found = [
      ...(strange.length > 0 ? [`unknown columns ${strange.map((n) => `"${n}"`).join(', ')}`] : []),
      ...(missing.length > 0 ? [`no column ${missing.map((n) => `"${n}"`).join(', ')}`] : []),
    ].join(' and ');
    return cannot('wrong columns', found, `columns from ${known.join(', ')}`, 'Rename the columns.');
  }
  if (body.length > MOST_ROWS) {
    return cannot('too many rows', `${body.length} rows`, `${MOST_ROWS} or fewer`, 'Split the table.');
  }
  const rows = body.flatMap((cells, i) => {
    const named = Object.fromEntries(
      columns
        .map((name, c) => [name, (cells[c] ?? '').trim()] as const)
        .filter(([name, cell]) => name !== '' && cell !== ''),
    );
    return Object.keys(named).length === 0 ? [] : [{ line: i + 2, cells: named }];
  });
  return good({ columns, rows });
}
