import { type CountLine, countLines } from '../../core/count/countLines.ts';
import type { CountResult } from '../../core/count/countResult.ts';
import { SQUARE_METRES_PER_ACRE, SQUARE_METRES_PER_HECTARE } from '../../core/units/conversions.ts';
import type { LengthSystem } from '../../core/units/formatLength.ts';
import { formatLength } from '../../core/units/formatLength.ts';
import { formatPopulation, formatPopulationNumber } from '../../core/units/formatPopulation.ts';
import type { PhotoResult } from '../../core/visit/countSchema.ts';
import { COLOUR_ALONE } from '../../worker/colourAlone.ts';
import { checkedShare } from './checkedShare.ts';
import { pageWords } from './pageWords.ts';
import { wordFor } from './plural.ts';
import { unbroken } from './unbroken.ts';

interface PhotoNumbersProps {
  /** As the machine counted. */
  readonly original: PhotoResult;
  /** After the corrections. */
  readonly result: PhotoResult;
  /** Who corrected it. */
  readonly checkedBy: readonly string[];
  readonly units: LengthSystem;
}

/** In the visit's own unit, with its doubt. */
function populationText(population: NonNullable<CountResult['population']>, units: LengthSystem): string {
  const { perAcre, lowPerAcre, highPerAcre } = population;
  const unit = units === 'imperial' ? 'perAcre' : 'perHectare';
  const areasInAcre = units === 'imperial' ? 1 : SQUARE_METRES_PER_HECTARE / SQUARE_METRES_PER_ACRE;
  const [value, low, high] = [perAcre, lowPerAcre, highPerAcre].map((n) => n * areasInAcre) as [number, number, number];
  return `${formatPopulation(value, unit)} (${formatPopulationNumber(low, unit)} to ${formatPopulationNumber(high, unit)})`;
}

/** Population, spacing and gaps stand open; the rest waits behind a tap, so that photo and buttons stay in reach. */
const FIRST_LINES = 2;
const GAPS = ['gaps', 'no-gaps'];

/** What would have been one; results of early versions do not say. */
const noGaps = ({ setting }: CountResult, units: LengthSystem) =>
  setting === undefined ? 'no gaps' : `no gap over ${formatLength(setting.gapM, units)}`;

/** One line in the page's words and the visit's units. */
function textOf(line: CountLine, result: CountResult, units: LengthSystem): string {
  if (line.code === 'population' && result.population !== null) return populationText(result.population, units);
  if (line.code === 'no-gaps') return noGaps(result, units);
  const text = pageWords(line);
  // A reason may say itself that there is none.
  return line.tells === 'reason' && !text.startsWith('No ') ? `no scale: ${text}` : text;
}

/** What one photo says, number first. */
export function PhotoNumbers({ original, result, checkedBy, units }: PhotoNumbersProps) {
  const { value, low, high } = result.count;
  const changed = Math.round(original.count.value) !== Math.round(value);
  const plants = wordFor(Math.round(value), 'plant');
  const whole = result as unknown as CountResult;
  const share = checkedShare(whole);
  const { stretch } = original;
  // Without a length nothing but the count can be told up here.
  const lines = countLines(whole, units).slice(1);
  const isOpen = ({ code }: CountLine, i: number) => stretch !== null && (i < FIRST_LINES || GAPS.includes(code));
  const [open, more] = [lines.filter(isOpen), lines.filter((line, i) => !isOpen(line, i))].map((some) =>
    some.map((line) => textOf(line, whole, units)),
  ) as [string[], string[]];
  const alone = whole.warnings?.find(({ code }) => code === COLOUR_ALONE);
  return (
    <>
      <p class="big" data-testid="photo-count">
        {Math.round(value)}
        <span class="small">
          {' '}
          {stretch === null
            ? `${plants} in the middle row`
            : unbroken(`${plants} in ${formatLength(stretch.lengthM, units)}`)}
        </span>
      </p>
      <p>
        {Math.round(low)} to {unbroken(`${Math.round(high)} at ${Math.round(result.count.level * 100)} %`)}
        {changed && `; the machine counted ${Math.round(original.count.value)}`}
      </p>
      {stretch === null && (
        <p class="notice">
          No length is known here, so nothing is measured and this count decides nothing. Set a length on the photo.
        </p>
      )}
      {alone !== undefined && <p class="notice">{alone.message}</p>}
      {checkedBy.length > 0 && (
        <p>
          <strong>Checked by {checkedBy.join(' and ')}</strong>
          {share !== null && `: ${share}`}
        </p>
      )}
      <ul class="lines">
        {open.map((line) => (
          <li key={line}>{unbroken(line)}</li>
        ))}
      </ul>
      <details class="setup">
        <summary>How it was measured</summary>
        <ul class="lines">
          {more.map((line) => (
            <li key={line}>{unbroken(line)}</li>
          ))}
        </ul>
      </details>
    </>
  );
}
