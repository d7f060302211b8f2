import { useEffect, useState } from 'preact/hooks';
import type { QueueState } from '../../browser/sync/createQueue.ts';
import { formatDay } from '../../core/outlook/calendar.ts';
import { type FieldEntry, fieldList } from '../edits/fieldList.ts';
import { fileStandings, standingHere } from '../edits/standingsHere.ts';
import { NameFirst } from '../parts/NameFirst.tsx';
import { plural } from '../parts/plural.ts';
import { standingWords, verdictWord } from '../parts/standingWords.ts';
import { unbroken } from '../parts/unbroken.ts';
import { queueState, rows, settings } from '../state/app.ts';
import { hrefOf } from '../state/route.ts';
import { today } from '../state/today.ts';

const SHOWN_AT_FIRST = 40;

/** Fields, those of today first. */
export function TodayPage() {
  const [search, setSearch] = useState('');
  const [season, setSeason] = useState('');
  const [most, setMost] = useState(SHOWN_AT_FIRST);
  const words = search.toLowerCase().split(/\s+/);
  const all = fieldList(rows.value);
  const seasons = [...new Set(all.flatMap((entry) => entry.plantings.map((one) => String(one.season))))]
    .sort()
    .reverse();
  const inSeason = (entry: FieldEntry) => season === '' || entry.plantings.some((one) => String(one.season) === season);
  const found = all.filter((entry) => inSeason(entry) && words.every((word) => entry.search.includes(word)));
  const isToday = (entry: FieldEntry) => entry.visits[0]?.visitedOn === today();
  const ordered = [...found.filter(isToday), ...found.filter((entry) => !isToday(entry))];
  const shown = ordered.slice(0, most);
  const lastVisits = shown.flatMap((entry) => entry.visits.slice(0, 1));
  const known = lastVisits.map((visit) => visit.id + visit.updatedAt).join(' ');
  useEffect(() => {
    void fileStandings(lastVisits);
  }, [known]);
  return (
    <>
      <h1>Fields</h1>
      {settings.value.name === '' && <NameFirst />}
      {/* What arrives later stands last, so that nothing moves under a thumb. */}
      <div class="find">
        <label class="line">
          <span>Search</span>
          <input type="search" value={search} onInput={(event) => setSearch(event.currentTarget.value)} />
        </label>
        <a class="button" href={hrefOf('new-field')}>
          Add a field
        </a>
        <label class="line">
          <span>Season</span>
          <select value={season} onChange={(event) => setSeason(event.currentTarget.value)}>
            <option value="">All</option>
            {seasons.map((one) => (
              <option key={one}>{one}</option>
            ))}
          </select>
        </label>
        <a class="button" href={hrefOf('visits')}>
          All visits
        </a>
      </div>
      <ul class="list">
        {shown.map((entry) => (
          <li key={entry.field.id}>
            <FieldLine entry={entry} isToday={isToday(entry)} />
          </li>
        ))}
      </ul>
      {ordered.length > most && (
        <button type="button" onClick={() => setMost(most + 200)}>
          {ordered.length - most} more
        </button>
      )}
      {all.length === 0 && <p class="quiet">{noField(queueState.value)}</p>}
      {all.length > 0 && ordered.length === 0 && <p class="quiet">No field with these words.</p>}
    </>
  );
}

/** Nobody knows that there is no field before the server was asked. */
function noField({ trouble, doneAt }: QueueState): string {
  if (trouble !== null)
    return 'No field on this device yet. Add one; those of your server come once it can be reached.';
  return doneAt === null ? 'Asking your server for its fields.' : 'No field yet. Add one.';
}

function FieldLine({ entry, isToday }: { entry: FieldEntry; isToday: boolean }) {
  const { field, farm, plantings, visits } = entry;
  const planting = plantings[0]?.planting;
  const visit = visits[0];
  const conflicts = visits.reduce((sum, one) => sum + one.conflicts, 0);
  const facts = [
    ...(planting === undefined ? [] : [planting.marketClass, `planted ${formatDay(planting.plantedOn)}`]),
    ...(field.area === undefined ? [] : [field.area]),
    farm.name,
  ];
  const standing = visit === undefined ? null : standingHere(visit);
  return (
    <a href={hrefOf('field', field.id)} class="row-link">
      <span class="row-name">{field.name}</span>
      <span class="row-day">{visit === undefined ? 'not visited' : verdictWord(standing)}</span>
      {visit !== undefined && <span class="row-stand">{unbroken(standingWords(standing))}</span>}
      <span class="small">
        {facts
          .filter((fact) => fact !== '')
          .map(unbroken)
          .join(', ')}
      </span>
      <span class="small row-end">
        {visit === undefined ? '' : isToday ? 'today' : formatDay(visit.visitedOn)}
        {conflicts > 0 && <strong> {plural(conflicts, 'conflict')}</strong>}
      </span>
    </a>
  );
}
