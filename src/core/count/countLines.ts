import type { SaidValues } from '../faults/said.ts';
import { formatLength, type LengthSystem } from '../units/formatLength.ts';
import { formatPopulation, formatPopulationNumber } from '../units/formatPopulation.ts';
import type { CountResult } from './countResult.ts';

/** One line of the answer: what it tells, and how this project says it where nobody says it otherwise. */
export interface CountLine {
  readonly tells: 'answer' | 'reason' | 'warning';
  readonly code: string;
  readonly message: string;
  readonly values: SaidValues;
}

/** The answer in a few lines, numbers first, each with its name. The first line is the headline. */
export function countLines(result: CountResult, system: LengthSystem): readonly CountLine[] {
  const lines = [answer('headline', headline(result, system))];
  const { population, spacing, stretch, reference } = result;
  if (population !== null) {
    const { perAcre, lowPerAcre, highPerAcre, perHectare } = population;
    const range = `${formatPopulationNumber(lowPerAcre, 'perAcre')} to ${formatPopulationNumber(highPerAcre, 'perAcre')}`;
    const text = `${formatPopulation(perAcre, 'perAcre')} (${range}), ${formatPopulation(perHectare, 'perHectare')}`;
    lines.push(answer('population', text));
  } else if (stretch !== null) {
    lines.push(answer('no-row-width', 'population: cannot tell, because the row width is not given (--row-width)'));
  }
  if (spacing !== null && spacing.meanM !== null) {
    const cv = spacing.cv === null ? '' : `, CV ${Math.round(spacing.cv * 100)} %`;
    const sd = spacing.sdM === null ? '' : ` (SD ${formatLength(spacing.sdM, system)}${cv})`;
    lines.push(answer('spacing', `spacing ${formatLength(spacing.meanM, system)}${sd}, n ${spacing.n}`));
    const { missShare, multiplesShare, feedShare } = spacing;
    if (missShare !== null && multiplesShare !== null && feedShare !== null) {
      const shares = `${percent(feedShare)} fed, ${percent(multiplesShare)} multiples, ${percent(missShare)} misses`;
      lines.push(answer('planter-shares', `ISO 7256/1 shares: ${shares}`));
    }
  }
  if (stretch !== null) {
    const gaps = result.gaps.map((g) => `${formatLength(g.lengthM, system)} at ${formatLength(g.fromM, system)}`);
    const many = `${gaps.length} gap${gaps.length > 1 ? 's' : ''}: ${gaps.join(', ')}`;
    lines.push(gaps.length === 0 ? answer('no-gaps', 'no gaps') : answer('gaps', many));
  }
  if (reference.reason !== null) {
    const { reason, reasonCode = '', reasonValues = {} } = reference;
    lines.push({ tells: 'reason', code: reasonCode, message: reason, values: reasonValues });
  } else if (reference.alongErrorMm !== null && stretch !== null) {
    const share = (reference.alongErrorMm / 10 / stretch.lengthM).toFixed(1);
    const text = `reference: ${reference.kind}, lengths good to about ${share} %; from ${reference.cues.join(', ')}`;
    lines.push(answer('reference', text));
  }
  const warnings = result.warnings.map(({ code, message, values = {} }) => ({ code, message, values }));
  return [...lines, ...warnings.map((one) => ({ tells: 'warning', ...one }) as const)];
}

function answer(code: string, message: string): CountLine {
  return { tells: 'answer', code, message, values: {} };
}

function headline({ count, stretch, plants }: CountResult, system: LengthSystem): string {
  const where = stretch === null ? 'seen' : `in ${formatLength(stretch.lengthM, system)}`;
  const plural = count.value === 1 ? 'plant' : 'plants';
  const others = plants.filter((p) => p.kind !== 'plant' && p.inStretch).length;
  const more = others > 0 ? `; ${others} weeds or unsure` : '';
  return `${count.value} ${plural} ${where} (${count.low} to ${count.high}, ${Math.round(count.level * 100)} %)${more}`;
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`;
}
