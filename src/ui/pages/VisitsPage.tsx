import { useEffect, useMemo, useState } from 'preact/hooks';
import { formatDay } from '../../core/outlook/calendar.ts';
import { fileVerdicts, verdictHere } from '../edits/verdictsHere.ts';
import {
  ALL_VISITS,
  choicesOf,
  type VisitFilter,
  type VisitLine,
  visitList,
  wantedVisits,
} from '../edits/visitList.ts';
import { plural } from '../parts/plural.ts';
import { TextField } from '../parts/TextField.tsx';
import { rows } from '../state/app.ts';
import { hrefOf } from '../state/route.ts';

const SHOWN_AT_FIRST = 40;

const VERDICTS = [
  ['keep', 'Keep'],
  ['wait', 'Wait'],
  ['cost replant', 'Cost a replant'],
  ['too few spots', 'Too few spots'],
  ['none', 'Not assessed'],
] as const;

const LABELS: ReadonlyMap<string, string> = new Map(VERDICTS);

/** All visits on this device, found by words, season, class, verdict, field and date; needs no network. */
export function VisitsPage() {
  const [filter, setFilter] = useState<VisitFilter>(ALL_VISITS);
  const [most, setMost] = useState(SHOWN_AT_FIRST);
  const all = useMemo(() => visitList(rows.value), [rows.value]);
  const wanted = useMemo(() => wantedVisits(all, filter), [all, filter]);
  const found = filter.verdict === '' ? wanted : wanted.filter((line) => verdictHere(line) === filter.verdict);
  const unfiled = filter.verdict === '' ? 0 : wanted.filter((line) => verdictHere(line) === null).length;
  useEffect(() => {
    void fileVerdicts(filter.verdict === '' ? wanted.slice(0, most) : wanted);
  }, [wanted, most, filter.verdict]);
  const set = (change: Partial<VisitFilter>) => {
    setFilter((now) => ({ ...now, ...change }));
    setMost(SHOWN_AT_FIRST);
  };
  const pick = (key: 'season' | 'marketClass' | 'field', label: string, partOf: Parameters<typeof choicesOf>[1]) => (
    <Pick
      label={label}
      value={filter[key]}
      options={choicesOf(all, partOf).map(({ value, label, visits }) => [value, `${label} (${visits})`] as const)}
      onChange={(value) => set({ [key]: value })}
    />
  );
  const isFiltered = Object.values(filter).some((value) => value !== '');
  return (
    <>
      <h1>Visits</h1>
      <label class="line">
        <span>Search</span>
        <input type="search" value={filter.words} onInput={(event) => set({ words: event.currentTarget.value })} />
      </label>
      <div class="two">
        {pick('season', 'Season', (line) => [line.season, line.season])}
        <Pick label="Verdict" value={filter.verdict} options={VERDICTS} onChange={(verdict) => set({ verdict })} />
      </div>
      <details class="setup">
        <summary>Class, field, dates</summary>
        <div class="two">
          {pick('marketClass', 'Market class', (line) => [line.marketClass, line.marketClass])}
          {pick('field', 'Field', (line) => [line.field, line.fieldName])}
          <TextField label="From" type="date" value={filter.from} onChange={(from) => set({ from })} />
          <TextField label="To" type="date" value={filter.to} onChange={(to) => set({ to })} />
        </div>
      </details>
      <p class="found" aria-live="polite" data-testid="found">
        <strong>{found.length}</strong> of {plural(all.length, 'visit')}
        {unfiled > 0 && `, ${unfiled} still to judge`}
        {isFiltered && (
          <button type="button" onClick={() => set(ALL_VISITS)}>
            Show all
          </button>
        )}
      </p>
      <ul class="list">
        {found.slice(0, most).map((line) => (
          <li key={line.id}>
            <Line line={line} />
          </li>
        ))}
      </ul>
      {found.length > most && (
        <button type="button" class="wide" onClick={() => setMost(most + 200)}>
          {found.length - most} more
        </button>
      )}
    </>
  );
}

function Line({ line }: { line: VisitLine }) {
  const verdict = verdictHere(line);
  return (
    <a href={hrefOf('visit', line.id)} class="row-link">
      <span class="row-name">{line.fieldName}</span>
      <span class="row-day">{verdict === null ? '' : LABELS.get(verdict)}</span>
      <span class="small">
        {[dayText(line.visitedOn), line.marketClass, line.farmName].filter((one) => one !== '').join(', ')}
      </span>
      <span class="small row-end">
        {plural(line.spots, 'spot')}
        {line.conflicts > 0 && <strong> {plural(line.conflicts, 'conflict')}</strong>}
      </span>
    </a>
  );
}

function dayText(day: string): string {
  try {
    return `${formatDay(day)} ${day.slice(0, 4)}`;
  } catch {
    return day;
  }
}

interface PickProps {
  readonly label: string;
  readonly value: string;
  readonly options: readonly (readonly [value: string, label: string])[];
  readonly onChange: (value: string) => void;
}

function Pick({ label, value, options, onChange }: PickProps) {
  return (
    <label class="line">
      <span>{label}</span>
      <select value={value} onChange={(event) => onChange(event.currentTarget.value)}>
        <option value="">All</option>
        {options.map(([option, says]) => (
          <option key={option} value={option}>
            {says}
          </option>
        ))}
      </select>
    </label>
  );
}
