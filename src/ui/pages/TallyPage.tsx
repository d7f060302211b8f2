import { useState } from 'preact/hooks';
import { formatLength } from '../../core/units/formatLength.ts';
import { parseLength } from '../../core/units/parseLength.ts';
import type { VisitCount } from '../../core/visit/countSchema.ts';
import { changeCount } from '../edits/visitEdits.ts';
import { problemOf } from '../parts/problemOf.ts';
import { TextField } from '../parts/TextField.tsx';
import { useVisit } from '../parts/useVisit.ts';
import { edit, pending, saveSettings, settings } from '../state/app.ts';
import { hrefOf } from '../state/route.ts';

type RowCount = Extract<VisitCount, { kind: 'rows' }>;

/** Plants along a measured length, counted by thumb; each tap is kept at once. */
export function TallyPage({ id, spot, count: countId }: { id: string; spot: string; count: string }) {
  const shown = useVisit(id);
  const [row, setRow] = useState(0);
  const [along, setAlong] = useState('');
  const [byReading, setByReading] = useState(false);
  if (shown === null || shown === 'none') return <p class="quiet">Opening</p>;
  const place = shown.visit.spots.findIndex((one) => one.id === spot);
  const count = shown.visit.spots[place]?.counts.find((one) => one.id === countId);
  if (count?.kind !== 'rows') return <p class="quiet">This count is not on this device.</p>;
  const change = (next: (count: RowCount) => RowCount) =>
    edit(
      'visit',
      id,
      changeCount(spot, countId, (one) => (one.kind === 'rows' ? next(one) : one)),
    );
  const here = Math.min(row, count.plants.length - 1);
  const plants = count.plants[here] ?? 0;
  const add = (by: 1 | -1) =>
    void change((one) => ({ ...one, plants: one.plants.map((n, i) => (i === here ? Math.max(0, n + by) : n)) }));
  const unit = settings.value.units === 'imperial' ? 'in' : 'cm';
  const reading = parseLength(/^[\d.,/ ]+$/.test(along.trim()) ? `${along} ${unit}` : along);
  const addReading = () => {
    if (!reading.ok) return;
    const text = /^[\d.,/ ]+$/.test(along.trim()) ? `${along.trim()} ${unit}` : along.trim();
    setAlong('');
    void change((one) => {
      const readings = [...(one.readings ?? []), text];
      return { ...one, readings, plants: [readings.length, ...one.plants.slice(1)] };
    });
  };
  const takeBack = () =>
    void change((one) => {
      const readings = (one.readings ?? []).slice(0, -1);
      const { readings: _old, ...rest } = one;
      const plants = [readings.length, ...one.plants.slice(1)];
      return readings.length === 0 ? { ...rest, plants } : { ...rest, readings, plants };
    });
  const readings = count.readings ?? [];
  const isReading = here === 0 && (byReading || readings.length > 0);
  return (
    <section class="tally">
      <h1>Spot {place + 1}, by hand</h1>
      <TextField
        label="Length of row"
        value={count.length}
        problem={problemOf('length')}
        onChange={(length) => {
          if (length === '') return;
          void change((one) => ({ ...one, length }));
          void saveSettings({ tallyLength: length });
        }}
      />
      <p class="big" aria-live="polite" data-testid="tally" data-kept={pending.value === 0}>
        {plants}
        <span class="small"> plants{count.plants.length > 1 ? `, row ${here + 1} of ${count.plants.length}` : ''}</span>
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
          <button type="button" class="main plus" onClick={() => add(1)}>
            + plant
          </button>
          <button type="button" disabled={plants === 0} onClick={() => add(-1)}>
            Take back
          </button>
        </div>
      )}
      <div class="choices">
        {here === 0 && readings.length === 0 && plants === 0 && (
          <button type="button" aria-pressed={byReading} onClick={() => setByReading(!byReading)}>
            Note where each stands
          </button>
        )}
        <button
          type="button"
          onClick={() => {
            void change((one) => ({ ...one, plants: [...one.plants, 0] }));
            setRow(count.plants.length);
          }}
        >
          Next row beside it
        </button>
        {count.plants.length > 1 && (
          <button type="button" onClick={() => setRow((here + 1) % count.plants.length)}>
            Go to row {((here + 1) % count.plants.length) + 1}
          </button>
        )}
        <a class="button main" href={hrefOf('visit', id)}>
          Done here
        </a>
      </div>
    </section>
  );
}
