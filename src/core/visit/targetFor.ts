import { ENTERED } from '../sources/source.ts';
import type { Target } from '../targets/findTarget.ts';
import { findTarget } from '../targets/findTarget.ts';
import type { GrowthHabit } from '../targets/growthHabit.ts';
import type { TargetRow } from '../targets/targetRow.ts';
import { TARGET_ROWS } from '../targets/targetRows.ts';
import type { TargetNumbers } from './assessment.ts';
import { phrasingFor } from './phrasing.ts';
import { quantityIn } from './quantity.ts';
import type { VisitDocument } from './visitSchema.ts';

/** Said of all dry beans at any row width: what is left when the class or the row width is not known. */
const LAST_RESORT = 'Manitoba';

/**
 * The stand aimed at: the one entered, else the table's for class, habit and row width, else the general one with a
 * warning. Plants per square metre.
 *
 * @param rows the table of targets, an organisation's changes already laid over it
 */
export function targetFor(
  visit: VisitDocument,
  habit: GrowthHabit,
  rows: readonly TargetRow[] = TARGET_ROWS,
): TargetNumbers {
  const entered = quantityIn(visit.planting.target, 'density');
  if (entered !== null && entered > 0) {
    return { perM2: entered, says: 'entered for this field', sources: [ENTERED], warnings: [] };
  }
  const width = quantityIn(visit.planting.rowWidth, 'length');
  const question = {
    marketClass: visit.planting.marketClass,
    habit,
    rowWidthM: width !== null && width > 0 ? width : null,
    set: visit.planting.targetSet ?? null,
  };
  const found = findTarget(question, rows);
  if (found.ok) return numbers(found.value, visit, []);
  const general = findTarget({ ...question, marketClass: 'dry beans', set: LAST_RESORT });
  if (!general.ok) throw new Error(`the table lacks its general row: ${general.found}`);
  return numbers(general.value, visit, [`${found.found}: the general target is taken; enter your own`]);
}

/** Whose target it is and its range; an ideal beside that range is said to be one, or the two would contradict each other. */
function saysOf({ set, low, high, perSquareMetre }: Target, rangeText: (low: number, high: number) => string): string {
  const range = high > low ? rangeText(low, high) : null;
  if (perSquareMetre >= low && perSquareMetre <= high) return range === null ? set : `${set}, ${range}`;
  const side = perSquareMetre > high ? 'above' : 'below';
  return `${set}: the ideal${range === null ? '' : `, ${side} its range of ${range}`}`;
}

function numbers(target: Target, visit: VisitDocument, warnings: readonly string[]): TargetNumbers {
  const say = phrasingFor(visit.units, null);
  return {
    perM2: target.perSquareMetre,
    says: saysOf(target, (low, high) => say.plantsRange(low, high)),
    sources: target.sources,
    warnings: [...warnings, ...target.reasons.map((reason) => `target: ${reason}`)],
  };
}
