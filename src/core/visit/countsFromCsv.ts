import type { Cannot, Outcome } from '../faults/outcome.ts';
import { cannot, good } from '../faults/outcome.ts';
import type { VisitCount } from './countSchema.ts';
import { readCsvTable } from './csvTable.ts';
import { parseQuantity } from './quantity.ts';
import type { VisitSpot } from './visitSchema.ts';

/**
 * Columns of a table of hand counts, one line for each count; lines with the same `spot` belong to one spot.
 * `plants` of several adjacent rows are parted by spaces (`52 48`); so are `gaps`, each with its unit, parted by `;`.
 */
export const COUNT_COLUMNS = [
  'spot',
  'kind',
  'plants',
  'length',
  'width',
  'diameter',
  'gaps',
  'zone',
  'by',
  'counted_at',
  'latitude',
  'longitude',
  'note',
] as const;

type Cells = Readonly<Record<string, string>>;

/** Spots from a table of hand counts: rows (`length`), hoop (`diameter`) or quadrat (`width` and `length`). */
export function countsFromCsv(text: string): Outcome<readonly VisitSpot[]> {
  const table = readCsvTable(text, COUNT_COLUMNS, ['spot', 'plants']);
  if (!table.ok) return table;
  if (table.value.rows.length === 0) {
    return cannot('no counts', 'a table with no counts', 'one line for each count', 'Add the counts.');
  }
  const spots = new Map<string, VisitSpot>();
  for (const { line, cells } of table.value.rows) {
    const name = cells.spot;
    if (name === undefined) return wrong(line, 'no spot', 'a name or number in the column "spot"');
    const id = `spot-${name}`;
    const held = spots.get(id);
    const count = countFrom(cells, line, `${id}-count-${(held?.counts.length ?? 0) + 1}`);
    if (!count.ok) return count;
    const position = positionFrom(cells, line);
    if (!position.ok) return position;
    spots.set(id, {
      id,
      ...(cells.zone === undefined ? {} : { zoneId: cells.zone }),
      ...(cells.by === undefined ? {} : { by: cells.by }),
      ...(cells.counted_at === undefined ? {} : { countedAt: cells.counted_at }),
      ...(position.value === null ? {} : { position: position.value }),
      ...(cells.note === undefined ? {} : { note: cells.note }),
      ...held,
      counts: [...(held?.counts ?? []), count.value],
    });
  }
  return good([...spots.values()]);
}

function countFrom(cells: Cells, line: number, id: string): Outcome<VisitCount> {
  const kind = cells.kind ?? (cells.diameter !== undefined ? 'hoop' : cells.width !== undefined ? 'quadrat' : 'rows');
  if (kind !== 'rows' && kind !== 'hoop' && kind !== 'quadrat') {
    return wrong(line, `kind "${kind}"`, 'rows, hoop or quadrat');
  }
  const numbers = (cells.plants ?? '').split(/[\s;/+]+/).filter((part) => part !== '');
  const plants = numbers.map(Number);
  if (plants.length === 0 || plants.some((n) => !Number.isInteger(n) || n < 0)) {
    return wrong(line, `plants "${cells.plants ?? ''}"`, 'whole numbers of 0 or more, such as 52 or 52 48');
  }
  const wanted = { rows: ['length'], hoop: ['diameter'], quadrat: ['width', 'length'] }[kind];
  for (const column of wanted) {
    const cell = cells[column];
    if (cell === undefined) return wrong(line, `no ${column}`, `a ${column} with its unit for a ${kind} count`);
    const read = parseQuantity(cell, 'length');
    if (!read.ok) return wrong(line, `${column} ${read.found}`, read.wanted);
    if (read.value <= 0) return wrong(line, `${column} "${cell}"`, `a ${column} above 0`);
  }
  if (kind === 'rows') {
    const gaps = (cells.gaps ?? '')
      .split(';')
      .map((gap) => gap.trim())
      .filter((gap) => gap !== '');
    for (const gap of gaps) {
      const read = parseQuantity(gap, 'length');
      if (!read.ok) return wrong(line, `a gap of ${read.found}`, read.wanted);
    }
    return good({
      id,
      kind,
      length: cells.length!,
      plants,
      ...(cells.gaps === undefined ? {} : { gaps }),
    });
  }
  if (plants.length > 1) return wrong(line, `plants "${cells.plants}"`, `one number for one ${kind}`);
  return kind === 'hoop'
    ? good({ id, kind, insideDiameter: cells.diameter!, plants: plants[0]! })
    : good({ id, kind, width: cells.width!, length: cells.length!, plants: plants[0]! });
}

function positionFrom(cells: Cells, line: number): Outcome<[number, number] | null> {
  if (cells.latitude === undefined && cells.longitude === undefined) return good(null);
  const [latitude, longitude] = [Number(cells.latitude), Number(cells.longitude)];
  if (!(Math.abs(latitude) <= 90) || !(Math.abs(longitude) <= 180)) {
    return wrong(line, `latitude "${cells.latitude}", longitude "${cells.longitude}"`, 'degrees, both of them');
  }
  return good([latitude, longitude]);
}

function wrong(line: number, found: string, wanted: string): Cannot {
  return cannot('wrong line', `line ${line}: ${found}`, wanted, 'Correct the line.');
}
