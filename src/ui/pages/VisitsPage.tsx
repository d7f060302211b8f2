import { useEffect, useMemo, useState } from 'preact/hooks';
import { formatDay } from '../../core/outlook/calendar.ts';
import { fileStandings, type Standing, standingHere } from '../edits/standingsHere.ts';
import {
  ALL_VISITS,
  choicesOf,
  type VisitFilter,
  type VisitLine,
  visitList,
  wantedVisits,
} from '../edits/visitList.ts';
import { CHOICES } from '../parts/choices.ts';
import { plural } from '../parts/plural.ts';
import { standingWords, VERDICTS, verdictWord } from '../parts/standingWords.ts';
import { TextField } from '../parts/TextField.tsx';
import { unbroken } from '../parts/unbroken.ts';
import { rows } from '../state/app.ts';
import { hrefOf } from '../state/route.ts';

const SHOWN_AT_FIRST = 40;

const DECISIONS = [['none', 'Not yet'], ...CHOICES] as const;

/** All visits on this device, found by words, season, class, verdict, decision, field and date; needs no network. */
export function VisitsPage() {
  const [filter, setFilter] = useState<VisitFilter>(ALL_VISITS);
  const [most, setMost] = useState(SHOWN_AT_FIRST);
  const all = useMemo(() => visitList(rows.value), [rows.value]);
  const wanted = useMemo(() => wantedVisits(all, filter), [all, filter]);
  const judged = filter.verdict !== '' || filter.decision !== '';
  const isWanted = ({ verdict, decided }: Standing) =>
    (filter.verdict === '' || verdict === filter.verdict) &&
    (filter.decision === '' || (decided ?? 'none') === filter.decision);
  const standings = judged ? wanted.map(standingHere) : [];
  const found = judged ? wanted.filter((_, i) => standings[i] != null && isWanted(standings[i])) : wanted;
  const unfiled = standings.filter((one) => one === null).length;
  useEffect(() => {
    void fileStandings(judged ? wanted : wanted.slice(0, most));
  }, [wanted, most, judged]);
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
        <Pick label="Decided" value={filter.decision} options={DECISIONS} onChange={(decision) => set({ decision })} />
        <Pick label="Verdict" value={filter.verdict} options={VERDICTS} onChange={(verdict) => set({ verdict })} />
      </div>
      <details class="setup">
        <summary>Season, class, field, dates</summary>
        <div class="two">
          {pick('season', 'Season', (line) => [line.season, line.season])}
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
  const standing = standingHere(line);
  return (
    <a href={hrefOf('visit', line.id)} class="row-link">
      <span class="row-name">{line.fieldName}</span>
      <span class="row-day">{verdictWord(standing)}</span>
      <span class="row-stand">{unbroken(standingWords(standing))}</span>
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
