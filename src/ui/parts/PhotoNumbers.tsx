import type { CountResult } from '../../core/count/countResult.ts';
import { countText } from '../../core/count/countText.ts';
import type { LengthSystem } from '../../core/units/formatLength.ts';
import { formatLength } from '../../core/units/formatLength.ts';
import type { PhotoResult } from '../../core/visit/countSchema.ts';
import { COLOUR_ALONE } from '../../worker/colourAlone.ts';
import { wordFor } from './plural.ts';

interface PhotoNumbersProps {
  /** As the machine counted. */
  readonly original: PhotoResult;
  /** After the corrections. */
  readonly result: PhotoResult;
  /** Who corrected it. */
  readonly checkedBy: readonly string[];
  readonly units: LengthSystem;
}

/** Population and spacing; the rest waits behind a tap, so that the photo and its buttons stay in reach. */
const LINES_SHOWN = 2;

/** What one photo says, number first. */
export function PhotoNumbers({ original, result, checkedBy, units }: PhotoNumbersProps) {
  const { value, low, high } = result.count;
  const changed = Math.round(original.count.value) !== Math.round(value);
  const plants = wordFor(Math.round(value), 'plant');
  const whole = result as unknown as CountResult;
  const lines = countText(whole, units).map((line) => line.replace(/^! /, '').replace(' (--row-width)', ''));
  const { stretch } = original;
  // Without a length nothing but the count can be told up here.
  const shown = stretch === null ? 0 : LINES_SHOWN;
  const alone = whole.warnings?.find(({ code }) => code === COLOUR_ALONE);
  return (
    <>
      <p class="big" data-testid="photo-count">
        {Math.round(value)}
        <span class="small">
          {' '}
          {stretch === null
            ? `${plants} seen, every row in the photo`
            : `${plants} in ${formatLength(stretch.lengthM, units)}`}
        </span>
      </p>
      <p>
        {Math.round(low)} to {Math.round(high)} at {Math.round(result.count.level * 100)} %
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
        </p>
      )}
      <ul class="lines">
        {lines.slice(1, 1 + shown).map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <details class="setup">
        <summary>How it was measured</summary>
        <ul class="lines">
          {lines.slice(1 + shown).map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </details>
    </>
  );
}
