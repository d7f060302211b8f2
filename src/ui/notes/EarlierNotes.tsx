import { useEffect, useState } from 'preact/hooks';
import { thingKey } from '../../browser/store/storeTypes.ts';
import { formatDay } from '../../core/outlook/calendar.ts';
import { isJsonObject } from '../../core/sync/json.ts';
import { fromPerSquareMetre } from '../../core/units/density.ts';
import { formatPopulation } from '../../core/units/formatPopulation.ts';
import { assessVisit } from '../../core/visit/assessVisit.ts';
import { readVisit } from '../../core/visit/readVisit.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { put, setParts } from '../edits/visitEdits.ts';
import { AddEntry, EntryList } from '../parts/Entries.tsx';
import { problemOf } from '../parts/problemOf.ts';
import { TextField } from '../parts/TextField.tsx';
import { edit, newId, rows, store } from '../state/app.ts';

type Earlier = NonNullable<VisitDocument['earlierCounts']>[number];

/** Earlier counts of the same planting: of this device's own visits by one tap, others typed. */
export function EarlierNotes({ visit }: { visit: VisitDocument }) {
  const earlier = visit.earlierCounts ?? [];
  const known = useEarlierVisits(visit);
  const [on, setOn] = useState('');
  const [population, setPopulation] = useState('');
  const [round, setRound] = useState(0);
  const unit = visit.units === 'imperial' ? 'plants/ac' : 'plants/ha';
  const isWhole =
    on !== '' && population !== '' && problemOf('density')(population) === null && dayProblem(visit, on) === null;
  const add = (one: Earlier) =>
    edit('visit', visit.id, setParts({ earlierCounts: put(earlier, one).sort((a, b) => (a.on < b.on ? -1 : 1)) }));
  return (
    <>
      <EntryList
        entries={earlier.map((one) => ({
          id: one.id,
          says: (
            <>
              <strong>{one.population}</strong> {formatDay(one.on)}
            </>
          ),
          name: formatDay(one.on),
          onRemove: () =>
            void edit('visit', visit.id, setParts({ earlierCounts: earlier.filter((other) => other !== one) })),
        }))}
      />
      {known
        .filter((one) => !earlier.some((other) => other.id === one.id))
        .map((one) => (
          <button type="button" class="wide" key={one.id} onClick={() => void add(one)}>
            Take <strong>{one.population}</strong> of {formatDay(one.on)}
          </button>
        ))}
      <AddEntry
        what="count"
        isWhole={isWhole}
        onAdd={() => {
          void add({ id: `earlier-${newId().slice(0, 8)}`, on, population });
          setOn('');
          setPopulation('');
          setRound(round + 1);
        }}
      >
        <TextField
          key={round}
          label="Counted on"
          type="date"
          value={on}
          problem={(day) => dayProblem(visit, day)}
          onChange={setOn}
        />
        <TextField
          label="Stand"
          value={population}
          number
          placeholder={unit === 'plants/ac' ? '61,000 plants/ac' : '150,000 plants/ha'}
          problem={problemOf('density')}
          unit={unit}
          onChange={setPopulation}
        />
      </AddEntry>
    </>
  );
}

function dayProblem(visit: VisitDocument, day: string): string | null {
  if (day < visit.planting.plantedOn) return `Before planting on ${formatDay(visit.planting.plantedOn)}`;
  return day > visit.visitedOn ? `After the visit of ${formatDay(visit.visitedOn)}` : null;
}

/** What earlier visits to this planting counted, from the documents on this device. */
function useEarlierVisits(visit: VisitDocument): readonly Earlier[] {
  const [found, setFound] = useState<readonly Earlier[]>([]);
  useEffect(() => {
    const look = async () => {
      const unit = visit.units === 'imperial' ? 'perAcre' : 'perHectare';
      const counts: Earlier[] = [];
      for (const row of rows.value) {
        const brief = row.kind === 'visit' && isJsonObject(row.brief) ? row.brief : {};
        const isOfPlanting = isJsonObject(brief.planting) && brief.planting.id === visit.planting.id;
        if (!isOfPlanting || row.thing === visit.id || !(String(brief.visitedOn) < visit.visitedOn)) continue;
        const key = thingKey('visit', row.thing);
        const held = (await store().get('drafts', key)) ?? (await store().get('things', key));
        const read = readVisit(held?.document ?? null);
        const stand = read.ok ? assessVisit(read.value).stand : null;
        if (!read.ok || stand === null) continue;
        const population = formatPopulation(fromPerSquareMetre(stand.perM2, unit), unit);
        counts.push({ id: `visit-${row.thing}`.slice(0, 120), on: read.value.visitedOn, population });
      }
      setFound(counts);
    };
    void look();
  }, [visit.id]);
  return found;
}
