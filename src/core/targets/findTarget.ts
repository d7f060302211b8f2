import { cannot, good, type Outcome } from '../faults/outcome.ts';
import type { Source } from '../sources/source.ts';
import { METRES_PER_INCH } from '../units/conversions.ts';
import { toPerSquareMetre } from '../units/density.ts';
import { formatNumber } from '../units/formatNumber.ts';
import { PLANTS_PER_SEED } from './establishment.ts';
import type { GrowthHabit } from './growthHabit.ts';
import { marketClassOf, plainClassName, seedGroupOf } from './marketClass.ts';
import type { TargetRow } from './targetRow.ts';
import { TARGET_ROWS, USUAL_SETS } from './targetRows.ts';

export interface TargetQuestion {
  /** As people write it: `navy`, `Pinto beans`, or a class of one's own. */
  readonly marketClass: string;
  readonly habit: GrowthHabit | null;
  readonly rowWidthM: number | null;
  /** The set to ask; null: the organisation's own rows, then the usual ones. */
  readonly set: string | null;
}

/** The stand aimed at, plants per square metre, with how it was read off the table. */
export interface Target {
  readonly low: number;
  readonly high: number;
  /** What a stand is compared with: what the table calls ideal, or the middle of the two. */
  readonly perSquareMetre: number;
  readonly how: 'as printed' | 'between row widths' | 'nearest row width';
  readonly set: string;
  readonly rowIds: readonly string[];
  readonly reasons: readonly string[];
  readonly sources: readonly Source[];
}

interface Reading {
  readonly low: number;
  readonly high: number;
  readonly aim: number;
  readonly how: Target['how'];
  readonly rows: readonly TargetRow[];
  readonly reason: string | null;
}

/**
 * Looks up the target of a class for a row width. Within one set the row for the class comes before one for its seed
 * size, and that before one for all dry beans; a row for the habit before one for any. Between two widths of the table it
 * interpolates in a straight line and says so; outside them it takes the nearest and says so. Rows that count seeds are
 * turned into plants by `PLANTS_PER_SEED`, and say so.
 *
 * Refuses a class that no row of the sets asked is for, and a missing row width where the table depends on it.
 *
 * @param rows the table, the organisation's changes already laid over it (`overlayTargets`)
 */
export function findTarget(question: TargetQuestion, rows: readonly TargetRow[] = TARGET_ROWS): Outcome<Target> {
  const { rowWidthM } = question;
  if (rowWidthM !== null && !(rowWidthM > 0 && Number.isFinite(rowWidthM))) {
    return cannot('row width', `a row width of ${rowWidthM} m`, 'a row width above 0', 'Give the row width.');
  }
  const sets = setsToAsk(question.set, rows);
  for (const set of sets) {
    const fitting = mostFitting(
      rows.filter((row) => row.set === set),
      question,
    );
    if (fitting.length === 0) continue;
    const reading = readAt(fitting, rowWidthM);
    if (reading === null) {
      const widths = fitting.map((row) => inchesOf(row)).join(', ');
      return cannot('row width', 'no row width', `a row width; the table has ${widths}`, 'Give the row width.');
    }
    return good(toTarget(set, reading));
  }
  const found = `no target for "${question.marketClass}" in ${sets.map((set) => `"${set}"`).join(', ') || 'an empty table'}`;
  return cannot(
    'no target',
    found,
    'a class of the table, or a target of your own',
    'Enter the target for this field.',
  );
}

function setsToAsk(set: string | null, rows: readonly TargetRow[]): readonly string[] {
  if (set !== null) return [set];
  const own = rows.filter((row) => row.source.kind === 'entered').map((row) => row.set);
  return [...new Set([...own, ...USUAL_SETS])];
}

/** The rows for this class in the closest sense in which the set has any: class, seed group, all; habit, any habit. */
function mostFitting(rows: readonly TargetRow[], { marketClass, habit }: TargetQuestion): readonly TargetRow[] {
  const known = marketClassOf(marketClass);
  const names = [plainClassName(marketClass), known];
  const closeness = (row: TargetRow): number => {
    if (row.habit !== null && row.habit !== habit) return 0;
    const forHabit = row.habit === null ? 0 : 1;
    if ('marketClass' in row.audience)
      return names.includes(plainClassName(row.audience.marketClass)) ? 6 + forHabit : 0;
    if ('seedGroup' in row.audience)
      return known !== null && seedGroupOf(known) === row.audience.seedGroup ? 4 + forHabit : 0;
    return 2 + forHabit;
  };
  const best = Math.max(0, ...rows.map(closeness));
  if (best === 0) return [];
  const chosen = rows.filter((row) => closeness(row) === best);
  // a set may print narrow rows for all classes alike: widths that the closer rows lack
  const wider = rows.filter(
    (row) => closeness(row) > 0 && closeness(row) < best && !chosen.some((c) => overlap(c, row)),
  );
  return [...chosen, ...wider];
}

function overlap(a: TargetRow, b: TargetRow): boolean {
  if (a.rowWidthM === null || b.rowWidthM === null) return true;
  return a.rowWidthM.from <= b.rowWidthM.to && b.rowWidthM.from <= a.rowWidthM.to;
}

/** A row width this near to the table's is the table's: 0.001 in. */
const SAME_WIDTH_M = 0.001 * METRES_PER_INCH;

function readAt(rows: readonly TargetRow[], rowWidthM: number | null): Reading | null {
  const anyWidth = rows.find((row) => row.rowWidthM === null);
  const byWidth = rows.filter((row) => row.rowWidthM !== null).sort((a, b) => a.rowWidthM!.from - b.rowWidthM!.from);
  if (rowWidthM === null) return anyWidth === undefined ? null : printed(anyWidth);
  const holds = byWidth.find(
    ({ rowWidthM: w }) => rowWidthM >= w!.from - SAME_WIDTH_M && rowWidthM <= w!.to + SAME_WIDTH_M,
  );
  if (holds !== undefined) return printed(holds);
  if (anyWidth !== undefined) return printed(anyWidth);
  const below = byWidth.filter((row) => row.rowWidthM!.to < rowWidthM).at(-1);
  const above = byWidth.find((row) => row.rowWidthM!.from > rowWidthM);
  if (below === undefined || above === undefined) {
    const nearest = (below ?? above)!;
    return {
      ...printed(nearest),
      how: 'nearest row width',
      reason: `${inches(rowWidthM)} rows are outside the table; taken from ${inchesOf(nearest)}`,
    };
  }
  const share = (rowWidthM - below.rowWidthM!.to) / (above.rowWidthM!.from - below.rowWidthM!.to);
  const [a, b] = [printed(below), printed(above)];
  return {
    low: a.low + share * (b.low - a.low),
    high: a.high + share * (b.high - a.high),
    aim: a.aim + share * (b.aim - a.aim),
    how: 'between row widths',
    rows: [below, above],
    reason: `${inches(rowWidthM)} rows are not in the table: interpolated between ${inchesOf(below)} and ${inchesOf(above)}`,
  };
}

/** One row in plants per square metre. */
function printed(row: TargetRow): Reading {
  const share = row.of === 'seeds' ? PLANTS_PER_SEED : { low: 1, high: 1 };
  const low = toPerSquareMetre(row.low, row.unit) * share.low;
  const high = toPerSquareMetre(row.high, row.unit) * share.high;
  const ideal = row.ideal === undefined ? null : toPerSquareMetre(row.ideal, row.unit);
  return {
    low,
    high,
    aim: ideal === null ? (low + high) / 2 : (ideal * (share.low + share.high)) / 2,
    how: 'as printed',
    rows: [row],
    reason: null,
  };
}

function toTarget(set: string, { low, high, aim, how, rows, reason }: Reading): Target {
  const seeds = rows.some((row) => row.of === 'seeds');
  return {
    low,
    high,
    perSquareMetre: aim,
    how,
    set,
    rowIds: rows.map((row) => row.id),
    reasons: [
      ...(reason === null ? [] : [reason]),
      ...(seeds ? ['the table gives seeds planted: plants taken as 87 to 91 % of them'] : []),
    ],
    sources: [...new Set([...rows.map((row) => row.source), ...(seeds ? [PLANTS_PER_SEED.source] : [])])],
  };
}

function inches(metres: number): string {
  return `${formatNumber(metres / METRES_PER_INCH, 1)} in`;
}

function inchesOf({ rowWidthM }: TargetRow): string {
  if (rowWidthM === null) return 'any width';
  const { from, to } = rowWidthM;
  return from === to ? inches(from) : from === 0 ? `up to ${inches(to)}` : `${inches(from)} to ${inches(to)}`;
}
