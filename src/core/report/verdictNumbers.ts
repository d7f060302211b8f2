import { formatDay } from '../outlook/calendar.ts';
import { formatLength, formatRowWidth } from '../units/formatLength.ts';
import type { Assessment, StandNumbers } from '../visit/assessment.ts';
import { USUAL_PRECISION } from '../visit/assessPrecision.ts';
import { phrasingFor } from '../visit/phrasing.ts';

/** A number and what it is, both as text. */
export interface NumberLine {
  readonly value: string;
  readonly what: string;
}

const PATTERNS = {
  even: 'more even than chance',
  random: 'no more uneven than chance',
  clumped: 'clumped, more uneven than chance',
} as const;

/** Where and when, in one line. */
export function verdictPlace(a: Assessment): string {
  const { visit } = a;
  const width = visit.rowWidthM === null ? [] : [`${formatRowWidth(visit.rowWidthM, visit.units)} rows`];
  const area = visit.areaM2 === null ? [] : [phrasingFor(visit.units, null).area(visit.areaM2)];
  const days = `${visit.daysAfterPlanting} days after planting`;
  return [
    `${visit.field}, ${visit.farm}`,
    [visit.marketClass, ...width, ...area].join(', '),
    `visited ${formatDay(visit.visitedOn)} ${visit.visitedOn.slice(0, 4)}, ${days}`,
  ].join('; ');
}

/** The numbers of the page, most important first. Only what is known has a line. */
export function verdictNumbers(a: Assessment): readonly NumberLine[] {
  const say = phrasingFor(a.visit.units, a.visit.currency);
  const range = (stand: StandNumbers) =>
    stand.low === null || stand.high === null
      ? `no interval from ${stand.spots} ${stand.spots === 1 ? 'spot' : 'spots'}`
      : `${bare(say.plants(stand.low))} to ${bare(say.plants(stand.high))}, ${Math.round(stand.level * 100)} %, ${stand.spots} spots`;
  const lines: NumberLine[] = [];
  const add = (value: string, what: string) => lines.push({ value, what });
  if (a.stand !== null) add(say.plants(a.stand.perM2), `standing (${range(a.stand)})`);
  if (a.viable !== null && a.viable !== a.stand)
    add(say.plants(a.viable.perM2), `of them likely to live (${range(a.viable)})`);
  add(say.plants(a.target.perM2), `target (${a.target.says})`);
  const counted = a.viable ?? a.stand;
  if (counted !== null) {
    add(percent(counted.perM2 / a.target.perM2), `of the target; the floor is ${say.plants(a.floorPerM2)}`);
  }
  if (a.outlook?.stillComing === true) {
    const { middle, low, high } = a.outlook.finalPerM2;
    add(say.plants(middle), `expected in the end (${bare(say.plants(low))} to ${bare(say.plants(high))})`);
  }
  if (a.yieldPotential !== null) {
    const { low, high } = a.yieldPotential.yieldShare;
    const value =
      Math.round(low * 100) === Math.round(high * 100) ? percent(low) : `${Math.round(low * 100)} to ${percent(high)}`;
    add(value, "of a full stand's yield");
  }
  if (a.money !== null) {
    const { risk } = a.money;
    add(
      chance(risk.probabilityPays),
      a.zones.length > 0 ? 'chance that replanting the whole field pays' : 'chance that replanting pays',
    );
    add(
      say.money(risk.gainPerArea.middle),
      `gain of replanting (${bare(say.money(risk.gainPerArea.low))} to ${bare(say.money(risk.gainPerArea.high))})`,
    );
    if (a.money.breakEvenPerM2 !== null) {
      add(say.plants(a.money.breakEvenPerM2), 'standing evenly: keeping and replanting come out the same');
    }
    add(say.yields(a.money.mustAdd.yieldPerArea), 'more yield pays for replanting');
  }
  if (a.decision.verdict.kind === 'cost replant') {
    const { perM2, kgPerM2 } = a.seed;
    const seeds = say.plantsRange(perM2.low, perM2.high).replace('plants', 'seeds');
    const weight = kgPerM2 === null ? '' : `, ${bare(say.yields(kgPerM2.low))} to ${say.yields(kgPerM2.high)}`;
    add(seeds, `to sow for the target${weight}`);
  }
  if (a.establishment !== null) add(percent(a.establishment), 'of the seed stands');
  if (a.precision !== null) {
    const { halfWidthShare, level, spots, finite } = a.precision;
    const wanted = finite?.spots ?? spots;
    const isWide = halfWidthShare !== null && halfWidthShare > USUAL_PRECISION;
    const more = wanted === null || !isWide ? '' : `; ${wanted} spots in all for ± ${percent(USUAL_PRECISION)}`;
    if (halfWidthShare !== null) add(`± ${percent(halfWidthShare)}`, `of the mean (${percent(level)})${more}`);
  }
  if (a.pattern !== null) {
    const { index, n, pieceM, pattern, p } = a.pattern;
    const pieces = `${n} pieces of row, ${formatLength(pieceM, a.visit.units)} each`;
    add(
      index.toFixed(2),
      `variance over mean of ${pieces}: ${PATTERNS[pattern]} (p ${p < 0.001 ? '< 0.001' : p.toFixed(3)})`,
    );
  }
  if (a.evenness?.gapShare != null) add(percent(a.evenness.gapShare), 'of the row in gaps over 2 ft (61 cm)');
  if (a.evenness?.spacingCv != null) {
    const mean =
      a.evenness.meanSpacingM === null ? '' : `, mean ${formatLength(a.evenness.meanSpacingM, a.visit.units)}`;
    add(percent(a.evenness.spacingCv), `spacing CV (${a.evenness.spacings} spacings${mean})`);
  }
  return lines;
}

/** Odds of draws are never certain. */
function chance(share: number): string {
  return share > 0.99 ? '> 99 %' : share < 0.01 ? '< 1 %' : percent(share);
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`;
}

/** The number alone: a range names its unit once. */
function bare(phrase: string): string {
  return phrase.replace(/ .*$/, '');
}
