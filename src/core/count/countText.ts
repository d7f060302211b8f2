import { formatLength, type LengthSystem } from '../units/formatLength.ts';
import { formatPopulation, formatPopulationNumber } from '../units/formatPopulation.ts';
import type { CountResult } from './countResult.ts';

/** The answer in a few lines, numbers first. The first line is the headline. */
export function countText(result: CountResult, system: LengthSystem): string[] {
  const lines = [headline(result, system)];
  const { population, spacing, stretch, reference } = result;
  if (population !== null) {
    lines.push(
      `${formatPopulation(population.perAcre, 'perAcre')} (${formatPopulationNumber(population.lowPerAcre, 'perAcre')} to ${formatPopulationNumber(population.highPerAcre, 'perAcre')}), ${formatPopulation(population.perHectare, 'perHectare')}`,
    );
  } else if (stretch !== null) {
    lines.push('population: cannot tell, because the row width is not given (--row-width)');
  }
  if (spacing !== null && spacing.meanM !== null) {
    const cv = spacing.cv === null ? '' : `, CV ${Math.round(spacing.cv * 100)} %`;
    const sd = spacing.sdM === null ? '' : ` (SD ${formatLength(spacing.sdM, system)}${cv})`;
    lines.push(`spacing ${formatLength(spacing.meanM, system)}${sd}, n ${spacing.n}`);
    if (spacing.missShare !== null && spacing.multiplesShare !== null && spacing.feedShare !== null) {
      lines.push(
        `ISO 7256/1 shares: ${percent(spacing.feedShare)} fed, ${percent(spacing.multiplesShare)} multiples, ${percent(spacing.missShare)} misses`,
      );
    }
  }
  if (stretch !== null) {
    const gaps = result.gaps.map((g) => `${formatLength(g.lengthM, system)} at ${formatLength(g.fromM, system)}`);
    lines.push(gaps.length === 0 ? 'no gaps' : `${gaps.length} gap${gaps.length > 1 ? 's' : ''}: ${gaps.join(', ')}`);
  }
  if (reference.reason !== null) lines.push(`no scale: ${reference.reason}`);
  else if (reference.alongErrorMm !== null && stretch !== null) {
    const share = (reference.alongErrorMm / 10 / stretch.lengthM).toFixed(1);
    lines.push(`reference: ${reference.kind}, lengths good to about ${share} %; from ${reference.cues.join(', ')}`);
  }
  return [...lines, ...result.warnings.map((w) => `! ${w.message}`)];
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
