import type { Numbers } from './numbers.ts';

interface NumbersBarProps {
  readonly numbers: Numbers;
  readonly checkedBy: readonly string[];
  /** Marks nobody has looked at. */
  readonly left: number;
  /** Those of them whose answer may well change the count. */
  readonly unsure: number;
  readonly onDone: () => void;
  /** Where no length is known: asks for one. */
  readonly onSetLength: (() => void) | null;
}

/** The numbers on top: they follow every touch. */
export function NumbersBar({ numbers, checkedBy, left, unsure, onDone, onSetLength }: NumbersBarProps) {
  return (
    <header class="cp-top">
      <p class="cp-count">
        <b>{numbers.count}</b> <span>({numbers.range}) plants</span>
      </p>
      <p class="cp-checked">
        {left === 0 ? 'All looked at' : left === unsure ? `${left} unsure left` : `${left} left, ${unsure} unsure`}
        {checkedBy.length === 0 ? '' : ` · checked by ${checkedBy.join(', ')}`}
      </p>
      <button type="button" class="cp-done" onClick={onDone}>
        Done
      </button>
      {onSetLength !== null ? (
        <div class="cp-numbers cp-no-length">
          <p>No length is known in this photo.</p>
          <button type="button" class="cp-set-length" onClick={onSetLength}>
            Set a length
          </button>
        </div>
      ) : (
        <dl class="cp-numbers">
          <div>
            <dt>{numbers.populationUnit}</dt>
            <dd>
              {numbers.population ?? 'no row width'} <small>{numbers.populationRange}</small>
            </dd>
          </div>
          <div>
            <dt>Mean spacing</dt>
            <dd>{numbers.spacing ?? 'unknown'}</dd>
          </div>
          <div>
            <dt>Longest gap</dt>
            <dd>
              {numbers.gap ?? 'unknown'} <small>{numbers.leastGap}</small>
            </dd>
          </div>
        </dl>
      )}
    </header>
  );
}
