import { cannot, good, type Outcome } from '../faults/outcome.ts';
import { ENTERED } from '../sources/source.ts';
import type { TargetRow } from './targetRow.ts';

/** What an organisation lays over the table: a row of its own (or in place of one, by its id), or a row taken out. */
export type TargetChange =
  | { readonly kind: 'put'; readonly row: Omit<TargetRow, 'source'> }
  | { readonly kind: 'remove'; readonly id: string };

/**
 * The table with an organisation's changes laid over it, in order; the table itself stays as it is. Rows put in carry
 * the source "entered". Refuses rows that are no table rows: no name, populations not above 0 or the wrong way round,
 * widths the wrong way round, and the removal of a row that is not there.
 */
export function overlayTargets(
  rows: readonly TargetRow[],
  changes: readonly TargetChange[],
): Outcome<readonly TargetRow[]> {
  let table = rows;
  for (const change of changes) {
    if (change.kind === 'remove') {
      if (!table.some((row) => row.id === change.id)) {
        return cannot('no such row', `no row "${change.id}"`, 'the id of a row in the table', 'Check the id.');
      }
      table = table.filter((row) => row.id !== change.id);
      continue;
    }
    const fault = faultIn(change.row);
    if (fault !== null)
      return cannot('bad row', `row "${change.row.id}": ${fault}`, 'a row of the table', 'Correct the row.');
    table = [...table.filter((row) => row.id !== change.row.id), { ...change.row, source: ENTERED }];
  }
  return good(table);
}

function faultIn(row: Omit<TargetRow, 'source'>): string | null {
  if (row.id.trim() === '' || row.set.trim() === '') return 'it has no id or no set';
  if (!(row.low > 0 && row.high >= row.low && Number.isFinite(row.high))) return `population ${row.low} to ${row.high}`;
  if (
    row.rowWidthM !== null &&
    !(row.rowWidthM.from >= 0 && row.rowWidthM.to >= row.rowWidthM.from && row.rowWidthM.to > 0)
  ) {
    return `row widths ${row.rowWidthM.from} to ${row.rowWidthM.to} m`;
  }
  return null;
}
