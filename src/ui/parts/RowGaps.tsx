import { useState } from 'preact/hooks';
import type { VisitCount } from '../../core/visit/countSchema.ts';
import { problemOf } from './problemOf.ts';
import { TextField } from './TextField.tsx';

type RowCount = Extract<VisitCount, { kind: 'rows' }>;

interface RowGapsProps {
  readonly count: RowCount;
  readonly unit: 'in' | 'cm';
  readonly onChange: (change: (count: RowCount) => RowCount) => void;
}

/** Bare runs of row that somebody measured; out of the way until wanted. */
export function RowGaps({ count, unit, onChange }: RowGapsProps) {
  const [gap, setGap] = useState('');
  const gaps = count.gaps ?? [];
  const add = () => {
    onChange((one) => ({ ...one, gaps: [...(one.gaps ?? []), gap] }));
    setGap('');
  };
  const takeBack = () =>
    onChange(({ gaps: old = [], ...rest }) => (old.length <= 1 ? rest : { ...rest, gaps: old.slice(0, -1) }));
  return (
    <details class="setup" open={gaps.length > 0}>
      <summary>Gaps{gaps.length > 0 && `: ${gaps.join(', ')}`}</summary>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (gap !== '') add();
        }}
      >
        <TextField
          label={`Gap of, ${unit}`}
          value={gap}
          number
          unit={unit}
          problem={problemOf('length')}
          onChange={setGap}
        />
        <div class="choices">
          <button type="submit" disabled={gap === ''}>
            Add the gap
          </button>
          <button type="button" disabled={gaps.length === 0} onClick={takeBack}>
            Take back
          </button>
        </div>
      </form>
    </details>
  );
}
