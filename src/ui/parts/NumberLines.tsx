import type { NumberLine } from '../../core/report/verdictNumbers.ts';
import { unbroken } from './unbroken.ts';

/** Numbers first, what they are behind them. */
export function NumberLines({ lines }: { lines: readonly NumberLine[] }) {
  return (
    <dl class="numbers">
      {lines.map((line) => (
        <div key={line.what}>
          <dt>{unbroken(line.what)}</dt>
          <dd>{line.value}</dd>
        </div>
      ))}
    </dl>
  );
}
