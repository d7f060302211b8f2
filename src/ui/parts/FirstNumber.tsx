import type { CountResult } from '../../core/count/countResult.ts';
import { formatLength, type LengthSystem } from '../../core/units/formatLength.ts';
import { wordFor } from './plural.ts';

/** The quick count by colour, said to be one, while the network still looks. */
export function FirstNumber({ first, units }: { first: CountResult; units: LengthSystem }) {
  const { count, stretch } = first;
  const plants = Math.round(count.value);
  return (
    <div class="first-number" role="status" data-testid="first-number">
      <p class="big">
        <span class="small">about</span> {plants}
        <span class="small">
          {' '}
          {wordFor(plants, 'plant')}
          {stretch === null ? '' : ` in ${formatLength(stretch.lengthM, units)}`}
        </span>
      </p>
      <p>
        First quick number, by colour: {Math.round(count.low)} to {Math.round(count.high)}. <strong>Not kept.</strong>
      </p>
      <p class="busy">Still looking closer.</p>
    </div>
  );
}
