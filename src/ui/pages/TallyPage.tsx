import { useState } from 'preact/hooks';
import { formatLength } from '../../core/units/formatLength.ts';
import { parseLength } from '../../core/units/parseLength.ts';
import { emptyCount, type HandCount, isEmpty, plantsAdded, plantsIn } from '../edits/handCount.ts';
import { changeCount } from '../edits/visitEdits.ts';
import { Choice } from '../parts/Choice.tsx';
import { NotHere } from '../parts/NotHere.tsx';
import { wordFor } from '../parts/plural.ts';
import { problemOf } from '../parts/problemOf.ts';
import { RowGaps } from '../parts/RowGaps.tsx';
import { TextField } from '../parts/TextField.tsx';
import { useVisit } from '../parts/useVisit.ts';
import { withUnit } from '../parts/withUnit.ts';
import { edit, pending, saveSettings, settings } from '../state/app.ts';
import { hrefOf } from '../state/route.ts';

type RowCount = Extract<HandCount, { kind: 'rows' }>;

const KINDS = [
  ['rows', 'Row'],
  ['hoop', 'Hoop'],
  ['quadrat', 'Quadrat'],
] as const;

/** Plants along a measured length, in a hoop or in a quadrat, counted by thumb; each tap is kept at once. */
export function TallyPage({ id, spot, count: countId }: { id: string; spot: string; count: string }) {
  const shown = useVisit(id);
  const [row, setRow] = useState(0);
  const [along, setAlong] = useState('');
  const [byReading, setByReading] = useState(false);
  if (shown === null) return <p class="quiet">Opening</p>;
  if (shown === 'none') return <NotHere what="visit" />;
  const place = shown.visit.spots.findIndex((one) => one.id === spot);
  const count = shown.visit.spots[place]?.counts.find((one) => one.id === countId);
  if (count === undefined || count.kind === 'photo') return <NotHere what="count" />;
  const change = (next: (count: HandCount) => HandCount) =>
    void edit(
      'visit',
      id,
      changeCount(spot, countId, (one) => (one.kind === 'photo' ? one : next(one))),
    );
  const changeRows = (next: (count: RowCount) => RowCount) => change((one) => (one.kind === 'rows' ? next(one) : one));
  const rowsCounted = count.kind === 'rows' ? count.plants.length : 1;
  const here = Math.min(row, rowsCounted - 1);
  const plants = plantsIn(count, here);
  const unit = settings.value.units === 'imperial' ? 'in' : 'cm';
  const reading = parseLength(withUnit(along, unit));
  const addReading = () => {
    if (!reading.ok) return;
    const text = withUnit(along, unit);
    setAlong('');
    changeRows((one) => {
      const readings = [...(one.readings ?? []), text];
      return { ...one, readings, plants: [readings.length, ...one.plants.slice(1)] };
    });
  };
  const takeBack = () =>
    changeRows((one) => {
      const readings = (one.readings ?? []).slice(0, -1);
      const { readings: _old, ...rest } = one;
      const left = [readings.length, ...one.plants.slice(1)];
      return readings.length === 0 ? { ...rest, plants: left } : { ...rest, readings, plants: left };
    });
  const readings = count.kind === 'rows' ? (count.readings ?? []) : [];
  const isReading = count.kind === 'rows' && here === 0 && (byReading || readings.length > 0);
  return (
    <section class="tally">
      <h1>Spot {place + 1}, by hand</h1>
      <Size count={count} onChange={change} />
      <p class="big" aria-live="polite" data-testid="tally" data-kept={pending.value === 0}>
        {plants}
        <span class="small">
          {' '}
          {wordFor(plants, 'plant')}
          {rowsCounted > 1 ? `, row ${here + 1} of ${rowsCounted}` : ''}
        </span>
      </p>
      {isReading ? (
        <form
          class="reading"
          onSubmit={(event) => {
            event.preventDefault();
            addReading();
          }}
        >
          <label class="line">
            <span>Plant stands at, {unit}</span>
            <input inputMode="decimal" value={along} onInput={(event) => setAlong(event.currentTarget.value)} />
          </label>
          <button type="submit" class="main" disabled={!reading.ok}>
            Plant here
          </button>
          <button type="button" disabled={readings.length === 0} onClick={takeBack}>
            Take back
          </button>
          <p class="small">
            {readings
              .slice(-6)
              .map((text) => {
                const at = parseLength(text);
                return at.ok ? formatLength(at.value, settings.value.units) : text;
              })
              .join(', ')}
          </p>
        </form>
      ) : (
        <div class="counter">
          <button type="button" class="main plus" onClick={() => change((one) => plantsAdded(one, here, 1))}>
            + plant
          </button>
          <button type="button" disabled={plants === 0} onClick={() => change((one) => plantsAdded(one, here, -1))}>
            Take back
          </button>
        </div>
      )}
      <div class="choices">
        {count.kind === 'rows' && (
          <button
            type="button"
            onClick={() => {
              changeRows((one) => ({ ...one, plants: [...one.plants, 0] }));
              setRow(rowsCounted);
            }}
          >
            Next row beside it
          </button>
        )}
        {count.kind === 'rows' && here === 0 && readings.length === 0 && plants === 0 && (
          <button type="button" aria-pressed={byReading} onClick={() => setByReading(!byReading)}>
            Note where each stands
          </button>
        )}
        {rowsCounted > 1 && (
          <button type="button" onClick={() => setRow((here + 1) % rowsCounted)}>
            Go to row {((here + 1) % rowsCounted) + 1}
          </button>
        )}
      </div>
      <a class="button main wide" href={hrefOf('visit', id)}>
        Done here
      </a>
      {count.kind === 'rows' && <RowGaps count={count} unit={unit} onChange={changeRows} />}
      {isEmpty(count) && (
        <Choice
          label="Count in"
          options={KINDS}
          value={count.kind}
          onChange={(kind) => {
            if (kind !== null) change((one) => emptyCount(one.id, kind, settings.value));
          }}
        />
      )}
    </section>
  );
}

interface SizeProps {
  readonly count: HandCount;
  readonly onChange: (next: (count: HandCount) => HandCount) => void;
}

/** How much ground is counted; remembered for the next spot. */
function Size({ count, onChange }: SizeProps) {
  const imperial = settings.value.units === 'imperial';
  const line = (label: string, value: string, unit: string, put: (text: string) => void) => (
    <TextField
      label={label}
      value={value}
      unit={unit}
      problem={problemOf('length')}
      onChange={(text) => text !== '' && put(text)}
    />
  );
  if (count.kind === 'rows') {
    return line('Length of row', count.length, imperial ? 'ft' : 'm', (length) => {
      onChange((one) => (one.kind === 'rows' ? { ...one, length } : one));
      void saveSettings({ tallyLength: length });
    });
  }
  if (count.kind === 'hoop') {
    return line('Inside diameter', count.insideDiameter, imperial ? 'in' : 'cm', (insideDiameter) => {
      onChange((one) => (one.kind === 'hoop' ? { ...one, insideDiameter } : one));
      void saveSettings({ hoop: insideDiameter });
    });
  }
  const side = imperial ? 'ft' : 'm';
  const sides = (width: string, length: string) => {
    onChange((one) => (one.kind === 'quadrat' ? { ...one, width, length } : one));
    void saveSettings({ quadrat: [width, length] });
  };
  return (
    <div class="two">
      {line('Width', count.width, side, (width) => sides(width, count.length))}
      {line('Length', count.length, side, (length) => sides(count.width, length))}
    </div>
  );
}
