import type { Cannot, Outcome } from '../faults/outcome.ts';
import { cannot, good } from '../faults/outcome.ts';
import { isDay } from '../outlook/calendar.ts';
import { readCsvTable } from './csvTable.ts';
import { parseQuantity } from './quantity.ts';
import type { VisitDocument } from './visitSchema.ts';

type WeatherDays = NonNullable<VisitDocument['weather']>['days'];

/** Columns of a table of temperatures, one line a day. A unit stands in every cell, or once in the column's name. */
export const WEATHER_COLUMNS = ['date', 'min', 'max', 'min_c', 'max_c', 'min_f', 'max_f', 'medium', 'rain'] as const;

/**
 * Daily temperatures from a table that the user has: `date,min_f,max_f,medium,rain`.
 *
 * @param medium where a table without a column "medium" was measured; leave out where nobody was asked
 */
export function weatherFromCsv(text: string, medium?: 'soil' | 'air'): Outcome<WeatherDays> {
  const table = readCsvTable(text, WEATHER_COLUMNS, medium === undefined ? ['date', 'medium'] : ['date']);
  if (!table.ok) return table;
  const days: WeatherDays = [];
  for (const { line, cells } of table.value.rows) {
    const on = cells.date;
    if (on === undefined || !isDay(on)) return wrong(line, `date "${on ?? ''}"`, 'a calendar day as YYYY-MM-DD');
    const measuredIn = cells.medium ?? (table.value.columns.includes('medium') ? undefined : medium);
    if (measuredIn !== 'soil' && measuredIn !== 'air') {
      return wrong(line, `medium "${cells.medium ?? ''}"`, 'soil or air, where the temperature was taken');
    }
    const [minimum, maximum] = [temperature(cells, 'min'), temperature(cells, 'max')];
    for (const [name, written] of [
      ['min', minimum],
      ['max', maximum],
    ] as const) {
      if (written === undefined) return wrong(line, `no ${name}`, `a column ${name}, ${name}_c or ${name}_f`);
      const read = parseQuantity(written, 'temperature');
      if (!read.ok) return wrong(line, `${name} ${read.found}`, read.wanted);
    }
    if (cells.rain !== undefined) {
      const rain = parseQuantity(cells.rain, 'length');
      if (!rain.ok) return wrong(line, `rain ${rain.found}`, rain.wanted);
    }
    days.push({
      on,
      minimum: minimum!,
      maximum: maximum!,
      medium: measuredIn,
      ...(cells.rain === undefined ? {} : { rain: cells.rain }),
    });
  }
  return days.length > 0 ? good(days) : cannot('no days', 'a table with no days', 'one line a day', 'Add the days.');
}

function temperature(cells: Readonly<Record<string, string>>, name: 'min' | 'max'): string | undefined {
  if (cells[name] !== undefined) return cells[name];
  if (cells[`${name}_c`] !== undefined) return `${cells[`${name}_c`]} C`;
  return cells[`${name}_f`] === undefined ? undefined : `${cells[`${name}_f`]} F`;
}

function wrong(line: number, found: string, wanted: string): Cannot {
  return cannot('wrong line', `line ${line}: ${found}`, wanted, 'Correct the line.');
}
