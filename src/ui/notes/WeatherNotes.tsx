import { useState } from 'preact/hooks';
import { inOneLine } from '../../core/faults/outcome.ts';
import { addDays, daysBetween, formatDay } from '../../core/outlook/calendar.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { weatherFromCsv } from '../../core/visit/weatherFromCsv.ts';
import { addWeatherDays, removeWeatherDay, setSky } from '../edits/noteEdits.ts';
import { Choice } from '../parts/Choice.tsx';
import { plural } from '../parts/plural.ts';
import { problemOf } from '../parts/problemOf.ts';
import { stopAtWrong } from '../parts/stopAtWrong.ts';
import { TextField } from '../parts/TextField.tsx';
import { edit } from '../state/app.ts';

const DAYS_SHOWN = 14;

/** Crust and rain to come by tap; temperatures day by day, or from a table that the person has. */
export function WeatherNotes({ visit }: { visit: VisitDocument }) {
  const { days = [], crust, rainExpected } = visit.weather ?? {};
  const [first, last] = [days[0], days.at(-1)];
  return (
    <>
      <Choice
        label="Crust on the soil"
        options={[
          ['none', 'None'],
          ['soft', 'Soft'],
          ['hard', 'Hard'],
        ]}
        value={crust ?? null}
        onChange={(next) => void edit('visit', visit.id, setSky({ crust: next ?? undefined }))}
      />
      <Choice
        label="Rain to come"
        options={[
          ['yes', 'Yes'],
          ['no', 'No'],
        ]}
        value={rainExpected === undefined ? null : rainExpected ? 'yes' : 'no'}
        onChange={(next) =>
          void edit('visit', visit.id, setSky({ rainExpected: next === null ? undefined : next === 'yes' }))
        }
      />
      <h2>Temperatures</h2>
      {first !== undefined && last !== undefined && (
        <p aria-live="polite">
          <strong class="count">{plural(days.length, 'day')}</strong> {formatDay(first.on)} to {formatDay(last.on)}
          {missing(visit) > 0 && `, ${missing(visit)} since planting missing`}
        </p>
      )}
      <AddDays visit={visit} />
      <ul class="list">
        {days.slice(-DAYS_SHOWN).map((day) => (
          <li key={day.on + day.medium} class="entry">
            <span>
              <strong>
                {day.minimum} to {day.maximum}
              </strong>{' '}
              {day.medium}, {formatDay(day.on)}
              {day.rain !== undefined && `, rain ${day.rain}`}
            </span>
            <button
              type="button"
              aria-label={`Remove ${formatDay(day.on)}, ${day.medium}`}
              onClick={() => void edit('visit', visit.id, removeWeatherDay(day))}
            >
              Remove
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}

/** Days from planting to the visit without a temperature. */
function missing(visit: VisitDocument): number {
  const known = new Set((visit.weather?.days ?? []).map((day) => day.on));
  const all = daysBetween(visit.planting.plantedOn, visit.visitedOn);
  const wanted = Array.from({ length: Math.max(0, Math.min(all, 120)) }, (_, i) =>
    addDays(visit.planting.plantedOn, i),
  );
  return wanted.filter((day) => !known.has(day)).length;
}

function AddDays({ visit }: { visit: VisitDocument }) {
  const days = visit.weather?.days ?? [];
  const degree = visit.units === 'imperial' ? 'F' : 'C';
  const depth = visit.units === 'imperial' ? 'in' : 'mm';
  const next = days.length === 0 ? visit.planting.plantedOn : addDays(days.at(-1)!.on, 1);
  const [medium, setMedium] = useState<'soil' | 'air'>(days.at(-1)?.medium ?? 'soil');
  const [on, setOn] = useState(next);
  const [round, setRound] = useState(0);
  const [low, setLow] = useState('');
  const [high, setHigh] = useState('');
  const [rain, setRain] = useState('');
  const [says, setSays] = useState('');
  const isWhole = on !== '' && [low, high].every((text) => problemOf('temperature')(text) === null);
  const add = async () => {
    const day = { on, minimum: low, maximum: high, medium, ...(rain === '' ? {} : { rain }) };
    await edit('visit', visit.id, addWeatherDays([day]));
    setOn(addDays(on, 1));
    setRound(round + 1);
    setLow('');
    setHigh('');
    setRain('');
    setSays('');
  };
  const read = async (file: File) => {
    const table = weatherFromCsv(await file.text(), medium);
    if (!table.ok) return setSays(inOneLine(table));
    await edit('visit', visit.id, addWeatherDays(table.value));
    setSays(`${plural(table.value.length, 'day')} taken in.`);
  };
  return (
    <form
      class="card form"
      onSubmit={(event) => {
        event.preventDefault();
        if (isWhole && !stopAtWrong(event.currentTarget)) void add();
      }}
    >
      <Choice
        label="Measured in"
        options={[
          ['soil', 'Soil'],
          ['air', 'Air'],
        ]}
        value={medium}
        onChange={(value) => value !== null && setMedium(value)}
      />
      <TextField key={round} label="Day" type="date" value={on} onChange={setOn} />
      <div class="two">
        <TextField
          label={`Low, ${degree}`}
          value={low}
          number={degree === 'F'}
          problem={problemOf('temperature')}
          unit={degree}
          onChange={setLow}
        />
        <TextField
          label={`High, ${degree}`}
          value={high}
          number={degree === 'F'}
          problem={problemOf('temperature')}
          unit={degree}
          onChange={setHigh}
        />
      </div>
      <TextField
        label={`Rain, ${depth} (optional)`}
        value={rain}
        number
        problem={problemOf('length')}
        unit={depth}
        onChange={setRain}
      />
      <button type="submit" class="main" disabled={!isWhole}>
        Add the day
      </button>
      <label class="button file">
        From a table (CSV)
        <input
          type="file"
          accept=".csv,text/csv,text/plain"
          onChange={(event) => {
            const input = event.currentTarget;
            const [file] = input.files ?? [];
            if (file !== undefined) void read(file);
            input.value = '';
          }}
        />
      </label>
      <p class="small">Columns: date, min_f, max_f or min_c, max_c; medium, rain if you have them.</p>
      <p role="status">{says}</p>
    </form>
  );
}
