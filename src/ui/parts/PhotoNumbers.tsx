import type { CountResult } from '../../core/count/countResult.ts';
import { countText } from '../../core/count/countText.ts';
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
const GAPS = /^(no gaps?|\d+ gaps?:)/;

/** What would have been one; results of early versions do not say. */
const noGaps = ({ setting }: CountResult, units: LengthSystem) =>
  setting === undefined ? 'no gaps' : `no gap over ${formatLength(setting.gapM, units)}`;

/** What one photo says, number first. */
export function PhotoNumbers({ original, result, checkedBy, units }: PhotoNumbersProps) {
  const { value, low, high } = result.count;
  const changed = Math.round(original.count.value) !== Math.round(value);
  const plants = wordFor(Math.round(value), 'plant');
  const whole = result as unknown as CountResult;
  const lines = countText(whole, units).map((line) => pageWords(line.replace(/^! /, '').replace('no scale: No', 'No')));
  if (whole.population !== null) lines[1] = populationText(whole.population, units);
  const share = checkedShare(whole);
  const { stretch } = original;
  // Without a length nothing but the count can be told up here.
  const told = lines.slice(1).map((line) => (line === 'no gaps' ? noGaps(whole, units) : line));
  const open = stretch === null ? [] : told.filter((line, i) => i < FIRST_LINES || GAPS.test(line));
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
      {alone !== undefined && <p class="notice">{pageWords(alone.message)}</p>}
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
          {told
            .filter((line) => !open.includes(line))
            .map((line) => (
              <li key={line}>{unbroken(line)}</li>
            ))}
        </ul>
      </details>
    </>
  );
}
