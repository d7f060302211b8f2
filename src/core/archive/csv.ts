export type CsvCell = string | number | null | undefined;

/**
 * A table as comma-separated values: quoted where needed, lines ended by CR LF (RFC 4180, 2005), empty for what is not
 * known. Text that a spreadsheet would run as a formula gets a leading apostrophe (OWASP, "CSV Injection").
 */
export function csv(header: readonly string[], rows: Iterable<readonly CsvCell[]>): string {
  const lines = [header, ...rows].map((row) => row.map(cell).join(','));
  return `${lines.join('\r\n')}\r\n`;
}

function cell(value: CsvCell): string {
  if (value === null || value === undefined) return '';
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : '';
  const text = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
